// Door logs on the command line: every format, from files and standard input, and what the options change.
import { describe, expect, it } from 'vitest';
import { codesIn, ownFolder, runHere } from './run-here.js';
import { calmDay, exactWatch, openingsCsv } from './scenes.js';

const edges = `time,state
2026-05-08T06:02:30Z,open
2026-05-08T06:03:30Z,open
2026-05-08T06:12:30Z,closed
2026-05-08T07:00:00Z,open
2026-05-08T07:00:10Z,closed
`;

const files = {
  'watch.yaml': exactWatch,
  'calm.yaml': calmDay,
  'openings.csv': openingsCsv,
  'openings.tsv': openingsCsv.replaceAll(',', '\t'),
  'edges.csv': edges,
  'openings.jsonl': `{"start": 1778220150, "end": 1778220750}\n{"start": 1778223600, "end": 1778223610}\n`,
  'local.csv': openingsCsv.replaceAll('Z', '').replaceAll('T', ' '),
  'back.csv': `${openingsCsv}2026-05-08T05:00:00Z,2026-05-08T05:00:10Z\n`,
};

async function summaryOf(args: readonly string[], stdin = ''): Promise<Record<string, unknown>> {
  const ran = await runHere(ownFolder(files), ['replay', '-c', 'watch.yaml', '--json', ...args], {
    stdin,
  });
  expect(ran.status).not.toBe(2);
  return JSON.parse(ran.stdout).replays[0].summary;
}

const wanted = { openings: 2, leaveOpens: 1, reported: 1, missed: 0, falseAlarms: 0 };

describe('replay of a door log', () => {
  it.each([['openings.csv'], ['openings.tsv'], ['edges.csv'], ['openings.jsonl']])(
    'reads %s',
    async (name) => {
      expect(await summaryOf([name])).toMatchObject(wanted);
    },
  );

  it('reads standard input in any pieces, once told what it is', async () => {
    expect(await summaryOf(['-', '--format', 'csv'], edges)).toMatchObject(wanted);
    const lines = files['openings.jsonl'];
    expect(await summaryOf(['-', '--format', 'ndjson'], lines)).toMatchObject(wanted);
  });

  it('starts at the first event unless told from when', async () => {
    expect(await summaryOf(['openings.csv'])).toMatchObject({ openings: 2, checks: 35 });
    const from = [
      'openings.csv',
      '--from',
      '2026-05-08T06:30:00Z',
      '--until',
      '2026-05-08T08:00:00Z',
    ];
    expect(await summaryOf(from)).toMatchObject({ openings: 1, leaveOpens: 0, checks: 54 });
  });

  it('never calls a door that is open at the end "never left open"', async () => {
    const open = 'time,state\n2026-05-08T06:00:00Z,shut\n2026-05-08T06:20:00Z,open\n';
    const folder = ownFolder({ ...files, 'open.csv': open });
    const args = ['replay', '-c', 'watch.yaml', 'open.csv'];
    const atOnce = await runHere(folder, args);
    expect(atOnce.stdout).toMatch(
      /^open\.csv: no leave-open so far; the log ends just as the door opens \(give a later end with --until\)/u,
    );
    const later = await runHere(folder, [...args, '--until', '2026-05-08T06:22:00Z']);
    expect(later.stdout).toMatch(
      /^open\.csv: no leave-open so far; at the end the door had been open for 2 min \(give a later end with --until\); /u,
    );
    expect(later.stdout).toMatch(/^ *undecided at the end +1$/mu);
    for (const { stdout, status } of [atOnce, later]) {
      expect(stdout).not.toContain('never left open');
      expect(status).toBe(0);
    }
  });

  it('refuses rows that go back, with their line, and repairs them on demand', async () => {
    const folder = ownFolder(files);
    const strict = await runHere(folder, ['replay', '-c', 'watch.yaml', 'back.csv']);
    expect(strict.status).toBe(2);
    expect(codesIn(strict.stderr)).toEqual(['row-goes-back']);
    const lenient = ['replay', '-c', 'watch.yaml', 'back.csv', '--lenient'];
    const repaired = await runHere(folder, lenient);
    expect(repaired.status).not.toBe(2);
    const json = await runHere(folder, [...lenient, '--json']);
    expect(codesIn(json.stderr).length).toBeGreaterThan(0);
    expect(JSON.parse(json.stdout).replays[0].summary.openings).toBeGreaterThan(0);
  });

  it('takes column names and words for the state', async () => {
    const odd = 'when,hatch\n2026-05-08T06:02:30Z,agape\n2026-05-08T06:12:30Z,tight\n';
    const args = ['-', '--format', 'csv', '--time-column', 'when', '--state-column', 'hatch'];
    const words = ['--open-word', 'agape', '--shut-word', 'tight'];
    expect(await summaryOf([...args, ...words], odd)).toMatchObject({ openings: 1, leaveOpens: 1 });
  });

  it.each([
    [['openings.csv', '--from', 'yesterday']],
    [['openings.csv', '--until', '2026-05-07T00:00:00Z']],
    [['openings.csv', '--zone', 'Mars/Olympus']],
    [['openings.csv', '--time-column', 'nope', '--state-column', 'x']],
    [['edges.csv', '--format', 'ndjson']],
    [['calm.yaml', '--format', 'csv']],
    [['openings.csv', '--format', 'scenario']],
    [['openings.csv', '--power-on-at', 'soon']],
  ])('ends with 2 and one clear error or more for %j', async (args) => {
    const ran = await runHere(ownFolder(files), ['replay', '-c', 'watch.yaml', ...args]);
    expect(ran.status).toBe(2);
    expect(ran.stdout).toBe('');
    expect(codesIn(ran.stderr).length).toBeGreaterThan(0);
    expect(ran.stderr).not.toMatch(/^\s+at /mu);
  });

  it.each([
    ['nothing', ''],
    ['only a header', 'start,end\n'],
    ['binary', Uint8Array.of(0x50, 0x4b, 3, 4, 0, 0)],
    ['not UTF-8', Uint8Array.of(0x73, 0xff, 0xfe, 0x0a)],
    ['a picture’s worth of commas', ','.repeat(10_000)],
    ['a quote that never ends', 'start,end\n"2026-05-08T06:02:30Z,'],
    ['columns that fit nothing', 'a,b\n1,2\n'],
  ])('ends with 2 for a log of %s', async (_, content) => {
    const args = ['replay', '-', '--format', 'csv'];
    const ran = await runHere(ownFolder(), args, { stdin: content });
    expect(ran.status).toBe(2);
    expect(codesIn(ran.stderr).length).toBeGreaterThan(0);
    expect(ran.stderr).not.toMatch(/^\s+at /mu);
  });
});
