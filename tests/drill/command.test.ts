// `dozewatch drill`, in this process.
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { durationText } from '../../src/base/index.js';
import { drillHtml, drillMarkdown, drillText } from '../../src/cli/drill/report.js';
import { summaryLines } from '../../src/cli/drill/words.js';
import { paint } from '../../src/cli/layout/paint.js';
import type { Drill, StepResult } from '../../src/drill/index.js';
import { codesIn, filesIn, ownFolder, runHere } from '../cli/run-here.js';

const calm = `watch: { checkInterval: 1m, escalationThreshold: 2, alertCooldown: 5m, retry: { interval: 20s, attempts: 1 } }
judge: { leaveOpenAfter: 4m }
`;
/** Whose drill is short, and soon made. */
const plainest = `watch: { checkInterval: 1m, escalationThreshold: 1, afterAlert: hold-until-reset, alertCooldown: 0s, retry: { interval: 1m, attempts: 1 } }
judge: { leaveOpenAfter: 4m }
`;
const files = { 'watch.yaml': plainest };
const args = ['drill', '-c', 'watch.yaml', '--short'];

/** The same in need of a quick drill. */
const slow = `watch: { checkInterval: 80m, escalationThreshold: 1, alertCooldown: 2h, retry: { interval: 80m, attempts: 1 } }
judge: { leaveOpenAfter: 90m }
`;

interface DrillJson extends Drill {
  readonly schema: string;
  readonly results: readonly StepResult[] | null;
}

async function drillIn(folder: string, more: readonly string[] = []): Promise<DrillJson> {
  const { stdout } = await runHere(folder, [...args, '--json', ...more]);
  const json: DrillJson = JSON.parse(stdout);
  return json;
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
  it('prints a checklist with its total time and windows', async () => {
    const folder = ownFolder(files);
    const { status, stdout, stderr } = await runHere(folder, args);
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    const drill = await drillIn(folder);
    expect(drill.schema).toBe('dozewatch/drill/1');
    expect(stdout).toContain(`${durationText(drill.totalMs)} in all`);
    expect(stdout.match(/\[ \]/gu)).toHaveLength(drill.steps.length);
    expect(stdout).toMatch(/\[ \] a message between .+ and .+, and no other until/u);
    expect(stdout).toContain('open the door wide');
    expect(stdout).toContain('no opening is too short for a message');
  });

  it('says whether its choice is proved the least, or how much too long it can be', async () => {
    const drill = await drillIn(ownFolder(files));
    const choice = (one: Drill): string | undefined =>
      summaryLines(one).find(([name]) => name === 'choice')?.[1];
    expect(drill.atLeastMs).toBe(drill.totalMs);
    expect(choice(drill)).toMatch(/^proved the least time of all choices among \d+ steps/u);
    const unsure = { ...drill, totalMs: 1_050_000, atLeastMs: 1_000_000 };
    expect(choice(unsure)).toMatch(
      /no choice takes less than 16 min 40 s, .* at most 5 % too long$/u,
    );
  });

  it('writes Markdown and HTML by the name of the file, with nothing of a name as markup', async () => {
    const name = '<b>&.yaml';
    const folder = ownFolder({ [name]: plainest });
    await runHere(folder, ['drill', '-c', name, '--short', '-o', 'drill.html']);
    await runHere(folder, ['drill', '-c', name, '--short', '-o', 'drill.md']);
    const html = readFileSync(path.join(folder, 'drill.html'), 'utf8');
    expect(html).toContain('<title>Drill of &#60;b&#62;&#38;.yaml</title>');
    expect(html).not.toContain('<b>');
    expect(html).toContain('<input type="checkbox">');
    const markdown = readFileSync(path.join(folder, 'drill.md'), 'utf8');
    expect(markdown).toContain('# Drill of \\<b\\>&.yaml');
    expect(markdown).toMatch(/^- \[ \] a message between/mu);
  });

  it('says in which step a person has to be exact, however it is written', async () => {
    const drill = await drillIn(ownFolder({ 'watch.yaml': calm }));
    expect(drill.steps.filter(({ toleranceMs }) => toleranceMs === 1_000)).toHaveLength(1);
    const words =
      'Be exact in this step: do what is said by a clock with seconds, give or take 1 s.';
    const view = { watch: 'watch.yaml', drill, results: null };
    const texts = [drillText(view, 120, paint(false)), drillMarkdown(view), drillHtml(view)];
    for (const text of texts) expect(text.split(words)).toHaveLength(2);
    const already = await drillIn(ownFolder(files), ['--tolerance', '1s']);
    expect(new Set(already.steps.map(({ toleranceMs }) => toleranceMs))).toEqual(new Set([1_000]));
    expect(drillText({ ...view, drill: already }, 120, paint(false))).not.toContain('Be exact');
  });

  it('writes nothing under the name of what a checklist is not', async () => {
    const folder = ownFolder(files);
    const ran = await runHere(folder, [...args, '-o', 'drill.pdf']);
    expect([ran.status, ran.stdout, ...codesIn(ran.stderr)]).toEqual([2, '', 'unknown-format']);
    expect(filesIn(folder)).toEqual(['watch.yaml']);
  });

  it('judges what was typed in: passed, failed with what was wrong, not tried', async () => {
    const folder = ownFolder(files);
    const good = goodRecord(await drillIn(folder));
    writeFileSync(path.join(folder, 'good.csv'), good);
    writeFileSync(path.join(folder, 'bad.csv'), '1;none\n2,0:01\n');
    const passed = await runHere(folder, [...args, '--record', 'good.csv']);
    expect(passed).toMatchObject({ status: 0, stderr: '' });
    expect(passed.stdout).toMatch(/(?<count>\d+) of \k<count> steps passed\./u);
    const failed = await runHere(folder, [...args, '--record', 'bad.csv']);
    expect(failed.status).toBe(1);
    expect(failed.stdout).toContain('2 FAILED');
    expect(failed.stdout).toMatch(/step 2: .*a message at 1 s that should not have come/u);
    const { results } = await drillIn(folder, ['--record', 'bad.csv']);
    expect(results?.map(({ outcome }) => outcome).slice(0, 3)).toEqual([
      'failed',
      'failed',
      'not-tried',
    ]);
  });

  it('judges a log of the device', async () => {
    const folder = ownFolder(files);
    const drill = await drillIn(folder);
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

  it('writes a watch file with shorter intervals for a quick drill, over none but its own', async () => {
    const folder = ownFolder({ 'watch.yaml': slow, 'mine.yaml': slow });
    const quick = ['drill', '-c', 'watch.yaml', '--short', '--quick'];
    const first = await runHere(folder, [...quick, 'quick.yaml']);
    expect(first.status).toBe(0);
    expect(first.stdout).toContain('quick.yaml: a drill of');
    const written = readFileSync(path.join(folder, 'quick.yaml'), 'utf8');
    expect(written).toMatch(/^# For a quick drill only: the intervals of watch\.yaml/u);
    expect(written).toContain('checkInterval: 1m\n');
    expect(written).toContain('alertCooldown: 1m30s\n');
    expect((await runHere(folder, [...quick, 'quick.yaml'])).status).toBe(0);
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
    ['drill-row-unreadable', 'first,3:12\n'],
    ['drill-step-unknown', '99,3:12\n'],
    ['drill-time-unreadable', '1,3m12s\n'],
    ['drill-time-unreadable', '1,3:60\n'],
    ['drill-row-contradicts', '1,none\n1,3:12\n'],
    ['drill-row-contradicts', '1,3:12\n1,none\n'],
    ['file-empty', ''],
  ])('refuses a record with %s', async (code, text) => {
    const folder = ownFolder({ ...files, 'record.csv': text });
    const { status, stdout, stderr } = await runHere(folder, [...args, '--record', 'record.csv']);
    expect([status, stdout, ...codesIn(stderr)]).toEqual([2, '', code]);
  });

  it.each([
    ['out-of-range', ['--tolerance', '0s']],
    ['duration-without-unit', ['--tolerance', '2']],
  ])('refuses usage: %s', async (code, more) => {
    const { status, stderr } = await runHere(ownFolder(files), [...args, ...more]);
    expect([status, ...codesIn(stderr)]).toEqual([2, code]);
  });
});
