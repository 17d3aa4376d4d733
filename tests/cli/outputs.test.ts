// Files that commands write: never over what they read, whatever it is called; with the mode that was there; to the end
// of links; and not at all where their owner has protected them.
import {
  chmodSync,
  linkSync,
  lstatSync,
  mkdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { codesIn, filesIn, ownFolder, runHere } from './run-here.js';

const scenario = `name: A goose-house hatch
length: 2h
door: [{ at: +30m, for: 20m }]
`;
const watch =
  'watch: { checkInterval: 1m }\nsupply: { preset: bare-radio-module, capacity: 600mAh }\n';

/** What commands read. */
const inputs: Readonly<Record<string, string>> = {
  'day.yaml': scenario,
  'watch.yaml': watch,
  'record.csv': 'step,message\n1,none\n',
  'profile.yaml': 'openingsPerHour: { "6-18": 1 }\nduration: { exponential: { mean: 20s } }\n',
  'logic.mjs': 'export const machine = null;\n',
  'fw.c':
    '#include "dozewatch_rig.h"\n#include "parts.h"\nvoid dw_wake(dw_cause c) { (void)c; dw_sleep_ms(pause_ms); }\n',
  'parts.h': 'static const unsigned long pause_ms = 60000;\n',
  'suite/day.yaml': scenario,
};

type Prepare = (folder: string, name: string) => string;

/** Other names of one file; each is made in the folder, and given back. */
const aliases: Readonly<Record<string, Prepare>> = {
  'its own name': (_, name) => name,
  'a detour': (_, name) => `suite/../${name}`,
  'a link': (folder, name) => {
    symlinkSync(path.resolve(folder, name), path.join(folder, 'link.svg'));
    return 'link.svg';
  },
  'a link to a link': (folder, name) => {
    symlinkSync(path.resolve(folder, name), path.join(folder, 'first.svg'));
    symlinkSync('first.svg', path.join(folder, 'link.svg'));
    return 'link.svg';
  },
  'a link to its folder': (folder, name) => {
    symlinkSync(folder, path.join(folder, 'here'));
    return `here/${name}`;
  },
  'a hard link': (folder, name) => {
    linkSync(path.join(folder, name), path.join(folder, 'twin.svg'));
    return 'twin.svg';
  },
};

/** Command lines that end in the option that names the output, and an input of theirs. */
const commands: readonly (readonly [line: string, input: string])[] = [
  ['chart day.yaml -c watch.yaml --svg -o', 'day.yaml'],
  ['chart day.yaml -c watch.yaml --svg -o', 'watch.yaml'],
  ['replay day.yaml -c watch.yaml --trace', 'day.yaml'],
  ['replay day.yaml -c watch.yaml --logic logic.mjs --trace', 'logic.mjs'],
  ['report day.yaml -c watch.yaml -o', 'day.yaml'],
  ['bounds -c watch.yaml --certificate', 'watch.yaml'],
  ['hunt -c watch.yaml --runs 1 -o', 'watch.yaml'],
  ['tune -c watch.yaml --profile profile.yaml --interval 5m -o', 'watch.yaml'],
  ['tune -c watch.yaml --profile profile.yaml --interval 5m -o', 'profile.yaml'],
  ['estimate -c watch.yaml --profile profile.yaml --years 1 --shard 1/1 -o', 'profile.yaml'],
  ['drill -c watch.yaml --format text --record record.csv -o', 'record.csv'],
  ['drill -c watch.yaml --quick', 'watch.yaml'],
  ['emit scxml -c watch.yaml -o', 'watch.yaml'],
  ['suite suite -c watch.yaml --junit', 'suite/day.yaml'],
  ['suite suite -c watch.yaml --junit', 'watch.yaml'],
];

describe.each(Object.entries(aliases))('an output that is an input, by %s', (_, prepare) => {
  it.each(commands)('is refused: %s %s', async (line, input) => {
    const folder = ownFolder(inputs);
    const name = prepare(folder, input);
    const ran = await runHere(folder, [...line.split(' '), name]);
    expect([ran.status, ...codesIn(ran.stderr)]).toEqual([2, 'output-is-input']);
    for (const [file, text] of Object.entries(inputs)) {
      expect(readFileSync(path.join(folder, file), 'utf8'), file).toBe(text);
    }
  });
});

describe('what firmware takes in', () => {
  it.skipIf(process.platform === 'win32')('is an input as well', async () => {
    const folder = ownFolder(inputs);
    const args = ['rig', 'fw.c', 'day.yaml', '-c', 'watch.yaml', '--trace', 'parts.h'];
    const { PATH: found = '' } = process.env;
    const ran = await runHere(folder, args, { environment: { PATH: found } });
    expect([ran.status, ...codesIn(ran.stderr)]).toEqual([2, 'output-is-input']);
    expect(readFileSync(path.join(folder, 'parts.h'), 'utf8')).toBe(inputs['parts.h']);
  });
});

const twins: readonly (readonly [how: string, prepare: Prepare])[] = [
  [
    'a file that is there',
    (folder, name) => {
      writeFileSync(path.join(folder, name), 'old');
      return name;
    },
  ],
  ['a file that is not there yet', (_, name) => `./suite/../${name}`],
  [
    'a folder that is linked',
    (folder, name) => {
      symlinkSync('.', path.join(folder, 'here'));
      return `here/${name}`;
    },
  ],
  [
    'a link that leads nowhere yet',
    (folder, name) => {
      symlinkSync(name, path.join(folder, 'b.svg'));
      return 'b.svg';
    },
  ],
];

describe('two outputs that are one file', () => {
  it.each(twins)('are refused: %s', async (_, prepare) => {
    const folder = ownFolder(inputs);
    const other = prepare(folder, 'a.svg');
    const before = filesIn(folder);
    const args = ['replay', 'day.yaml', '--trace', 'a.svg', '--chart', other];
    const ran = await runHere(folder, args);
    expect([ran.status, ...codesIn(ran.stderr)]).toEqual([2, 'output-twice']);
    expect(filesIn(folder)).toEqual(before);
  });
});

describe('a file that is there already', () => {
  const draw = ['chart', 'day.yaml', '-o', 'out.svg'];

  it.each(['600', '640', '755'])('keeps its mode: %s', async (octal) => {
    const folder = ownFolder({ ...inputs, 'out.svg': 'old' });
    const mode = Number.parseInt(octal, 8);
    chmodSync(path.join(folder, 'out.svg'), mode);
    expect((await runHere(folder, draw)).status).toBe(0);
    expect(statSync(path.join(folder, 'out.svg')).mode & 0o777).toBe(mode);
    expect(readFileSync(path.join(folder, 'out.svg'), 'utf8')).toContain('<svg');
  });

  it.each(['444', '400', '555', '066'])(
    'stays where its owner may not write: %s',
    async (octal) => {
      const folder = ownFolder({ ...inputs, 'out.svg': 'old' });
      symlinkSync('out.svg', path.join(folder, 'link.svg'));
      chmodSync(path.join(folder, 'out.svg'), Number.parseInt(octal, 8));
      for (const name of ['out.svg', 'link.svg']) {
        const ran = await runHere(folder, ['chart', 'day.yaml', '-o', name]);
        expect([ran.status, ...codesIn(ran.stderr)]).toEqual([2, 'output-read-only']);
      }
      chmodSync(path.join(folder, 'out.svg'), 0o600);
      expect(readFileSync(path.join(folder, 'out.svg'), 'utf8')).toBe('old');
    },
  );

  it('is replaced at the end of its links, which stay', async () => {
    const folder = ownFolder({ ...inputs, 'real/out.svg': 'old' });
    symlinkSync('real', path.join(folder, 'linked'));
    symlinkSync('linked/out.svg', path.join(folder, 'out.svg'));
    expect((await runHere(folder, draw)).status).toBe(0);
    expect(lstatSync(path.join(folder, 'out.svg')).isSymbolicLink()).toBe(true);
    expect(readFileSync(path.join(folder, 'real', 'out.svg'), 'utf8')).toContain('<svg');
  });
});

describe('a link that leads nowhere yet', () => {
  it('is followed, and what it names is made', async () => {
    const folder = ownFolder(inputs);
    mkdirSync(path.join(folder, 'real'));
    symlinkSync('real', path.join(folder, 'linked'));
    symlinkSync('linked/made.svg', path.join(folder, 'out.svg'));
    expect((await runHere(folder, ['chart', 'day.yaml', '-o', 'out.svg'])).status).toBe(0);
    expect(lstatSync(path.join(folder, 'out.svg')).isSymbolicLink()).toBe(true);
    expect(filesIn(path.join(folder, 'real'))).toEqual(['made.svg']);
  });

  it('is refused where it leads into no folder, or in a circle', async () => {
    const folder = ownFolder(inputs);
    symlinkSync('nowhere/made.svg', path.join(folder, 'out.svg'));
    symlinkSync('circle.svg', path.join(folder, 'circle.svg'));
    const codes: string[] = [];
    for (const name of ['out.svg', 'circle.svg']) {
      const ran = await runHere(folder, ['chart', 'day.yaml', '-o', name]);
      expect(ran.status).toBe(2);
      codes.push(...codesIn(ran.stderr));
    }
    expect(codes).toEqual(['folder-missing', 'cannot-write']);
  });
});

describe('a name that no file can have', () => {
  it.each([
    ['', 'output-unnamed'],
    ['.', 'output-is-folder'],
    ['suite', 'output-is-folder'],
    ['suite/', 'output-is-folder'],
    ['new/', 'output-is-folder'],
    ['nowhere/out.svg', 'folder-missing'],
    ['day.yaml/out.svg', 'cannot-write'],
    [`${'x'.repeat(300)}.svg`, 'cannot-write'],
  ])('is refused before anything is run: %j', async (name, code) => {
    const folder = ownFolder(inputs);
    const before = filesIn(folder);
    for (const line of [
      'chart day.yaml --svg -o',
      'report day.yaml -o',
      'planner -o',
      'hunt -o',
      'tune --profile seed-bank -o',
      'bounds --certificate',
      'replay day.yaml --trace',
      'suite suite --junit',
      'estimate --profile seed-bank --shard 1/1 -o',
      'drill --format text -o',
      'emit scxml -o',
      'place -o',
      'year --profile seed-bank -o',
    ]) {
      const ran = await runHere(folder, [...line.split(' '), name]);
      expect([ran.status, ...codesIn(ran.stderr)], line).toEqual([2, code]);
    }
    expect(filesIn(folder)).toEqual(before);
  });
});

describe('a page', () => {
  it('is not written under the name of another kind of file', async () => {
    const folder = ownFolder(inputs);
    const ran = await runHere(folder, ['planner', '-o', 'planner.pdf']);
    expect([ran.status, ...codesIn(ran.stderr)]).toEqual([2, 'unknown-format']);
    expect(ran.stderr).toContain('must end in .html');
    expect(filesIn(folder)).toEqual(Object.keys(inputs).sort());
  });
});

describe('the first line of bounds', () => {
  it('gives the reason for the status that --strict changes', async () => {
    const folder = ownFolder({ 'watch.yaml': 'judge: { leaveOpenAfter: 10m }\n' });
    const plainly = await runHere(folder, ['bounds', '-c', 'watch.yaml']);
    expect([plainly.status, plainly.stdout.split('\n')[0]]).toEqual([
      0,
      'watch.yaml: the requirement is met at rest, but NOT from every state.',
    ]);
    const strictly = await runHere(folder, ['bounds', '-c', 'watch.yaml', '--strict']);
    expect([strictly.status, strictly.stdout.split('\n')[0]]).toEqual([
      1,
      'watch.yaml: the requirement is met at rest, but NOT from every state, as --strict requires.',
    ]);
  });
});

describe('a folder that a command fills', () => {
  it.each([
    ['emit c --force -o out', 'output-read-only'],
    ['init --force start', 'output-is-folder'],
    ['bounds -c watch.yaml --witness day.yaml', 'cannot-write'],
    ['bounds -c watch.yaml --certificate day.yaml/c.json --witness shown', 'cannot-write'],
    ['bounds -c watch.yaml --certificate c.json --witness day.yaml', 'cannot-write'],
    ['bounds -c watch.yaml --certificate c.json --witness c.json', 'output-twice'],
  ])('stays as it was where one file cannot be written: %s', async (line, code) => {
    const folder = ownFolder({ ...inputs, 'out/watch_rig.c': '// Written by dozewatch emit' });
    chmodSync(path.join(folder, 'out', 'watch_rig.c'), 0o444);
    mkdirSync(path.join(folder, 'start', 'first-scenario.yaml'), { recursive: true });
    const before = filesIn(folder);
    const ran = await runHere(folder, line.split(' '));
    expect([ran.status, codesIn(ran.stderr).at(-1)]).toEqual([2, code]);
    expect(filesIn(folder)).toEqual(before);
  });

  it('gets no witness whose device is without charge before it shows anything', async () => {
    const folder = ownFolder({
      'small.yaml':
        'watch: { checkInterval: 10m }\nsupply: { preset: tuned-board, capacity: 0.005mAh }\n',
    });
    const ran = await runHere(folder, ['bounds', '-c', 'small.yaml', '--witness', 'shown']);
    expect(ran.status).toBe(1);
    expect(ran.stdout).toContain('the end of the charge');
  });

  it('has to be named, as every file has', async () => {
    const folder = ownFolder(inputs);
    for (const line of ['emit c', 'planner', 'hunt --runs 200']) {
      await runHere(folder, line.split(' '));
    }
    expect(filesIn(folder)).toEqual(Object.keys(inputs).sort());
  });
});

describe('an option by its former name', () => {
  it.each([
    ['tune --out t.yaml', '--out'],
    ['tune --out=t.yaml', '--out'],
    ['report day.yaml --out r.html', '--out'],
    ['planner --out p.html', '--out'],
    ['hunt --save h.yaml', '--save'],
    ['rig fw.c --hunt --save h.yaml', '--save'],
  ])('is refused, and the new one is named: %s', async (line, name) => {
    const ran = await runHere(ownFolder(inputs), line.split(' '));
    expect(ran.status).toBe(2);
    expect(ran.stderr).toContain(`error: option '${name}' is now '-o, --output'\n`);
  });
});
