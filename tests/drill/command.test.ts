// `dozewatch drill`, in this process.
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { roundedDurationText } from '../../src/base/index.js';
import { drillHtml } from '../../src/cli/drill/page.js';
import { drillMarkdown, drillText } from '../../src/cli/drill/report.js';
import { howTo, openTimes, summaryLines, wrongWords } from '../../src/cli/drill/words.js';
import { paint } from '../../src/cli/layout/paint.js';
import { type Drill, resultsOf, type StepResult } from '../../src/drill/index.js';
import { codesIn, filesIn, ownFolder, runHere } from '../cli/run-here.js';

/** Whose drill is short, and soon made. */
const plainest = `watch: { checkInterval: 1m, escalationThreshold: 1, afterAlert: hold-until-reset, alertCooldown: 0s, retry: { interval: 1m, attempts: 1 } }
judge: { leaveOpenAfter: 4m }
`;
const files = { 'watch.yaml': plainest };
const args = ['drill', '-c', 'watch.yaml', '--short'];

/** The same in need of a quick drill. */
const slow = `watch: { checkInterval: 80m, escalationThreshold: 1, alertCooldown: 2h, heartbeatInterval: 3d, retry: { interval: 80m, attempts: 1 } }
judge: { leaveOpenAfter: 90m }
`;

/** Its cooldown and heartbeat are of no round length. */
const uneven = `watch: { checkInterval: 1m, escalationThreshold: 1, alertCooldown: 240001ms, heartbeatInterval: 300003ms, retry: { interval: 1m, attempts: 1 } }
judge: { leaveOpenAfter: 4m }
`;

interface DrillJson extends Drill {
  readonly schema: string;
  readonly results: readonly StepResult[] | null;
}

let made: Promise<DrillJson> | null = null;

/** The drill of the plainest watch, made once. */
function plainestDrill(): Promise<DrillJson> {
  made ??= runHere(ownFolder(files), [...args, '--json']).then(({ stdout }) => JSON.parse(stdout));
  return made;
}

function clock(ms: number): string {
  const seconds = Math.floor(ms / 1_000);
  return `${String(Math.floor(seconds / 60))}:${String(seconds % 60).padStart(2, '0')}`;
}

/** A record in which every message comes in the middle of its window. */
function goodRecord({ steps }: Drill): string {
  const rows = steps.flatMap(({ windows }, index) => {
    const step = String(index + 1);
    if (windows.length === 0) return [`${step},none`];
    return windows.map(({ fromMs, toMs }) => `${step},${clock((fromMs + toMs) / 2)}`);
  });
  return ['step,message', '# all went well', '', ...rows, ''].join('\r\n');
}

function deviceLog({ steps }: Drill, sent: (atMs: number) => number): string {
  const lines: string[] = [];
  let beginMs = Date.UTC(2026, 4, 8, 6);
  for (const { actions, windows, endsMs } of steps) {
    const at = (ms: number): string => new Date(beginMs + ms).toISOString();
    const rows: [number, string][] = [
      [0, 'power-on,'],
      ...actions
        .filter(({ deed }) => deed === 'power-on')
        .map(({ atMs }): [number, string] => [atMs, 'power-on,']),
      ...windows.map(({ fromMs }): [number, string] => [sent(fromMs), 'alert,delivered']),
    ];
    rows.sort(([a], [b]) => a - b);
    lines.push(...rows.map(([ms, what]) => `${at(ms)},${what}`));
    beginMs += endsMs + 60_000;
  }
  return ['time,event,value', ...lines, ''].join('\n');
}

describe('dozewatch drill', () => {
  it('says how much too long its choice can be, where that is not proved the least', async () => {
    const drill = await plainestDrill();
    const choice = (one: Drill): string | undefined =>
      summaryLines(one, null).find(([name]) => name === 'choice')?.[1];
    expect(drill.atLeastMs).toBe(drill.totalMs);
    const unsure = { ...drill, totalMs: 1_050_000, atLeastMs: 1_000_000 };
    expect(choice(unsure)).toMatch(/none takes less than 16 min 40 s: .* at most 5 % too long$/u);
  });

  it('writes Markdown and HTML by the name of the file, with nothing of a name as markup', async () => {
    const name = '<b>&.yaml';
    const folder = ownFolder({ [name]: plainest });
    await runHere(folder, ['drill', '-c', name, '--short', '-o', 'drill.html']);
    await runHere(folder, ['drill', '-c', name, '--short', '-o', 'drill.md']);
    const html = readFileSync(path.join(folder, 'drill.html'), 'utf8');
    expect(html).toContain('<title>Drill of &lt;b>&amp;.yaml</title>');
    expect(html).not.toContain('<b>');
    const markdown = readFileSync(path.join(folder, 'drill.md'), 'utf8');
    expect(markdown).toContain('# Drill of \\<b\\>&.yaml');
  });

  it('begins with how long the door stands open, and what to do about it', async () => {
    const drill = await plainestDrill();
    const { totalMs, longestMs } = openTimes(drill.steps);
    expect(longestMs).toBeGreaterThan(0);
    expect(totalMs).toBeGreaterThanOrEqual(longestMs);
    const text = howTo(drill, {
      quickOf: { quick: 'quick.yaml', watch: 'watch.yaml' },
      supply: null,
    }).join('\n');
    expect(text).toContain(`for up to ${roundedDurationText(longestMs, 'at most')} at a stretch`);
    for (const word of ['Move the goods', 'on a bench', 'get out by', 'quick.yaml', 'connector'])
      expect(text).toContain(word);
  });

  it('says of a step that a person has to be exact in it, however it is written', async () => {
    const drill = await plainestDrill();
    const [first, ...others] = drill.steps;
    if (first === undefined) throw new Error('a drill has steps');
    const exact = { ...drill, steps: [{ ...first, toleranceMs: 1_000 }, ...others] };
    const times = (one: Drill): number[] => {
      const view = {
        watch: 'watch.yaml',
        drill: one,
        results: null,
        quickOf: null,
        supply: null,
        diagnosis: null,
        judge: '',
      };
      const texts = [
        drillText(view, 120, paint(false)),
        drillMarkdown(view),
        drillHtml(view, { script: { packed: '', allowed: '' }, judge: '' }),
      ];
      return texts.map((text) => text.split('Be exact').length - 1);
    };
    expect(times(drill)).toEqual([0, 0, 0]);
    expect(Math.min(...times(exact))).toBeGreaterThan(0);
  });

  it('writes nothing under the name of what a checklist is not', async () => {
    const folder = ownFolder(files);
    const ran = await runHere(folder, [...args, '-o', 'drill.pdf']);
    expect([ran.status, ran.stdout, ...codesIn(ran.stderr)]).toEqual([2, '', 'unknown-format']);
    expect(filesIn(folder)).toEqual(['watch.yaml']);
  });

  it('judges what was typed in: passed, failed, not tried', async () => {
    const folder = ownFolder(files);
    const good = goodRecord(await plainestDrill());
    writeFileSync(path.join(folder, 'good.csv'), good);
    writeFileSync(path.join(folder, 'bad.csv'), '1;none\n2,0:01\n');
    const passed = await runHere(folder, [...args, '--record', 'good.csv']);
    expect(passed).toMatchObject({ status: 0, stderr: '' });
    const failed = await runHere(folder, [...args, '--json', '--record', 'bad.csv']);
    expect(failed.status).toBe(1);
    const { results }: DrillJson = JSON.parse(failed.stdout);
    expect(results?.map(({ outcome }) => outcome).slice(0, 3)).toEqual([
      'failed',
      'failed',
      'not-tried',
    ]);
  });

  it('counts what is wrong in a step where it is much', () => {
    const windows = Array.from({ length: 25 }, (_, index) => ({
      fromMs: index * 60_000,
      toMs: index * 60_000 + 5_000,
    }));
    const step = {
      ...{ actions: [], toleranceMs: 2_000, windows, endsMs: 1_600_000 },
      ...{ bounds: [], restsAtMm: null, tells: [] },
    };
    const partsOf = (seenMs: readonly number[]): number => {
      const [result] = resultsOf([step], new Map([[1, seenMs]]));
      if (result === undefined) throw new Error('the step has a result');
      return wrongWords(result, step).split('; ').length;
    };
    // Three of a kind and how many more; where nothing came, how many and the first.
    expect(partsOf([])).toBe(2);
    expect(partsOf([1_000])).toBe(4);
    expect(partsOf(windows.map(({ toMs }) => toMs + 10_000))).toBe(8);
    expect(partsOf(windows.slice(4).map(({ fromMs }) => fromMs))).toBe(4);
  });

  it('judges a log of the device', async () => {
    const folder = ownFolder(files);
    const drill = await plainestDrill();
    writeFileSync(
      path.join(folder, 'good.csv'),
      deviceLog(drill, (atMs) => atMs + 1_000),
    );
    writeFileSync(
      path.join(folder, 'late.csv'),
      deviceLog(drill, (atMs) => atMs + 20_000),
    );
    expect((await runHere(folder, [...args, '--record', 'good.csv'])).status).toBe(0);
    expect((await runHere(folder, [...args, '--record', 'late.csv'])).status).toBe(1);
    const twice = deviceLog({ ...drill, steps: [...drill.steps, ...drill.steps] }, (atMs) => atMs);
    writeFileSync(path.join(folder, 'twice.csv'), twice);
    const { status, stderr } = await runHere(folder, [...args, '--record', 'twice.csv']);
    expect(status).toBe(2);
    expect(codesIn(stderr)).toEqual(['drill-log-too-long']);
  });

  it('is made for a cooldown and a heartbeat of any whole number of milliseconds', async () => {
    const { status, stderr } = await runHere(ownFolder({ 'watch.yaml': uneven }), args);
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  });

  it('writes a watch file with shorter intervals for a quick drill, over none but its own', async () => {
    const folder = ownFolder({ 'watch.yaml': slow, 'mine.yaml': slow });
    const quick = ['drill', '-c', 'watch.yaml', '--short', '--quick'];
    for (const when of ['the first time', 'again']) {
      expect((await runHere(folder, [...quick, 'quick.yaml'])).status, when).toBe(0);
      expect(filesIn(folder)).toEqual(['mine.yaml', 'quick.yaml', 'watch.yaml']);
    }
    // In proportion a heartbeat would be one of 54 min, which a person would wait for.
    const text = readFileSync(path.join(folder, 'quick.yaml'), 'utf8');
    expect(text).toContain('heartbeatInterval: 10m');
    expect(text).toContain('alertCooldown: 1m30s');
    for (const [file, code] of [
      ['mine.yaml', 'file-exists'],
      ['watch.yaml', 'output-is-input'],
      ['-', 'output-is-stdout'],
    ] as const) {
      const refused = await runHere(folder, [...quick, file]);
      expect([refused.status, ...codesIn(refused.stderr)]).toEqual([2, code]);
    }
  });

  it.each([
    ['out-of-range', ['--tolerance', '0s']],
    ['duration-without-unit', ['--tolerance', '2']],
  ])('refuses usage: %s', async (code, more) => {
    const { status, stderr } = await runHere(ownFolder(files), [...args, ...more]);
    expect([status, ...codesIn(stderr)]).toEqual([2, code]);
  });
});
