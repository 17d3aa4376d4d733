// The program as a whole: usage, help, exit statuses for what is not about any input, and its own faults.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { InvariantError } from '../../src/base/index.js';
import { type CommandEntry, commandNames } from '../../src/cli/command.js';
import { commandTable } from '../../src/cli/commands.js';
import { runProgram } from '../../src/cli/program.js';
import { ioOf, ownFolder, runHere } from './run-here.js';

describe('the program', () => {
  it('has a row for every command, in order', () => {
    expect(commandTable.map(({ name }) => name)).toEqual(commandNames);
  });

  it('lists every command with its summary', async () => {
    const { status, stdout } = await runHere('.', ['--help']);
    expect(status).toBe(0);
    for (const { name, summary } of commandTable) {
      expect(stdout).toMatch(new RegExp(`^  ${name} +${summary}$`, 'mu'));
    }
  });

  it.each(commandTable.map(({ name }) => [name]))(
    'helps with %s in both ways alike',
    async (name) => {
      const [option, command] = [
        await runHere('.', [name, '--help']),
        await runHere('.', ['help', name]),
      ];
      expect(option).toMatchObject({ status: 0, stderr: '' });
      expect(command).toEqual(option);
    },
  );

  it('loads no command that is not named', async () => {
    const entry: CommandEntry = {
      name: 'heavy',
      group: 'Other:',
      summary: 'never needed here',
      load: () => Promise.reject(new Error('loaded')),
    };
    const folder = ownFolder();
    expect((await runHere(folder, ['--version'])).stdout).toMatch(/^\d+\.\d+\.\d+\n$/u);
    const io = ioOf(folder);
    expect(await runProgram(['--help'], io, [entry])).toBe(0);
    await expect(runProgram(['heavy'], io, [entry])).rejects.toThrow('loaded');
  });

  it.each([
    [[]],
    [['frobnicate']],
    [['replay']],
    [['replay', 'a.yaml', '--jsn']],
    [['replay', 'a.yaml', '--format', 'xml']],
    [['replay', 'a.yaml', '-c']],
    [['suite']],
    [['suite', 'a', 'b']],
    [['chart', 'a.yaml', 'b.yaml']],
    [['chart', 'a.yaml', '--close-ups', 'many']],
    [['chart', 'a.yaml', '--width', '1e9']],
    [['--frobnicate']],
  ])('ends with 2 for the command line %j, on the error stream only', async (args) => {
    const { status, stdout, stderr } = await runHere('.', args);
    expect(status).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).not.toBe('');
    expect(stderr).not.toMatch(/^\s+at /mu);
  });

  it.each([
    ['-c, --config <file>', ['replay', 'a.yaml', '-c', 'b.yaml', '--config=c.yaml']],
    ['--outage <duration>', ['bounds', '--outage', '1h', '--outage', '2h']],
    ['--seed <text>', ['estimate', '--seed', '1', '--seed', '2']],
  ])(
    'refuses %s when it is given twice, for one of them would be forgotten',
    async (flags, args) => {
      const { status, stdout, stderr } = await runHere('.', args);
      expect(status).toBe(2);
      expect(stdout).toBe('');
      expect(stderr).toBe(
        `error: option '${flags}' is given twice [option-twice]\n(see dozewatch ${args[0] ?? ''} --help)\n`,
      );
    },
  );

  it('does not take the next option for a value that was left out', async () => {
    for (const next of ['-c', '--json', '--help']) {
      const { status, stderr } = await runHere('.', ['bounds', '--outage', next, 'watch.yaml']);
      expect(status).toBe(2);
      expect(stderr).toContain(
        `option '--outage <duration>' argument missing: ${next} is an option`,
      );
    }
  });

  it('refuses help for an unknown command, and suggests another', async () => {
    const { status, stdout, stderr } = await runHere('.', ['help', 'reply']);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(stderr).toMatch(/unknown command 'reply'[^]*replay/u);
    const [option, command] = [
      await runHere('.', ['--help']),
      await runHere('.', ['help', 'help']),
    ];
    expect(command).toEqual(option);
  });

  it('shows command lines that begin with npx where npx started it', async () => {
    const environment = { npm_command: 'exec', npm_lifecycle_script: "'dozewatch'" };
    const { stdout } = await runHere('.', ['replay', '--help'], { environment });
    expect(stdout).toContain('Usage: npx dozewatch replay ');
    expect(stdout.match(/^ {2}dozewatch /gmu)).toBeNull();
    const { stderr } = await runHere(ownFolder(), ['suite', '.'], { environment });
    expect(stderr).toContain('npx dozewatch init');
    const other = { npm_command: 'exec', npm_lifecycle_script: 'vitest' };
    expect((await runHere('.', ['--help'], { environment: other })).stdout).not.toContain('npx');
  });

  it('begins the command lines in what it prints and writes as it was started', async () => {
    const environment = { npm_command: 'exec', npm_lifecycle_script: 'dozewatch' };
    const folder = ownFolder();
    const lines = [
      ['init', '.'],
      ['place'],
      ['place', '--sleep-current'],
      ['place', '-o', 'sheet.html'],
      ['report', 'first-scenario.yaml', '-c', 'watch.yaml', '--no-bounds', '-o', 'page.html'],
      ['chart', 'first-scenario.yaml', '-c', 'watch.yaml', '-o', 'chart.html'],
    ];
    const bare = /(?<!npx )\bdozewatch (?:bounds|chart|estimate|place|replay|report|suite) [^·]/u;
    for (const args of lines) {
      const { stdout } = await runHere(folder, args, { environment });
      expect([args, bare.exec(stdout)?.[0]]).toEqual([args, undefined]);
    }
    for (const name of ['sheet.html', 'page.html', 'chart.html']) {
      const text = readFileSync(path.join(folder, name), 'utf8');
      expect([name, bare.exec(text)?.[0]]).toEqual([name, undefined]);
      expect(text).toContain('npx dozewatch ');
    }
  });

  it('suggests what was meant', async () => {
    expect((await runHere('.', ['reply'])).stderr).toContain('replay');
    expect((await runHere('.', ['replay', 'x', '--jsn'])).stderr).toContain('--json');
  });

  it('obeys no control character of its command line', async () => {
    const { status, stderr } = await runHere('.', ['\u001b[2Jx\u0007']);
    expect(status).toBe(2);
    expect(stderr).not.toMatch(/[^\P{Cc}\n]/u);
  });
});

describe('a fault of dozewatch itself', () => {
  it('ends with 3 and says what to report, without the person’s own paths', async () => {
    const folder = ownFolder({ 'a/doors.yaml': '' });
    const { status, stdout, stderr } = await runHere(folder, ['suite', '/home/jo/a b', '--json'], {
      environment: { HOME: '/home/jo', TOKEN: 'hush' },
      io: {
        now: () => {
          throw new InvariantError('a stamp is whole', {
            at: Number.POSITIVE_INFINITY,
            long: new Float64Array(9),
          });
        },
      },
    });
    expect(status).toBe(3);
    expect(stdout).toBe('');
    expect(stderr).toContain('dozewatch suite "~/a b" --json');
    expect(stderr).toContain(`node ${process.version}`);
    expect(stderr).toContain('InvariantError: a stamp is whole');
    expect(stderr).toContain('facts: {"at":"Infinity","long":"9 numbers"}');
    expect(stderr).not.toContain('/home/jo');
    expect(stderr).not.toContain('hush');
    expect(stderr).not.toContain(process.cwd());
  });
});
