// The planner in a headless browser: until the first paint, and a hand that drags a slider through all its steps:
// bounds, battery and a replayed week again each time. Aimed at: first paint under 1 s, a step under 50 ms, 60 frames/s.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import chromium from '@sparticuz/chromium';
import { chromium as driver, type Page } from 'playwright-core';
import type { BenchReport } from './contract.js';

const strokes = 4;
/** Frames of a drag that does not stop. */
const frames = 120;
/** Steps of the slider to 10 s … 45 s; the others are to 1 min … 1 h. */
const shortSteps = 5;

/**
 * The browser paints by itself: with a graphics card that the processor plays, it is that card which would be measured.
 */
const unwanted = /single-process|no-zygote|gl=|angle|gpu|swiftshader/u;

/** What the page needs to be driven: a step, until its frame has been painted, and a drag of one step a frame. */
const hands = `
  const slider = document.querySelector('[aria-label="Check every, as a slider"]');
  const frame = () => new Promise(requestAnimationFrame);
  const painted = () => frame().then(() => new Promise((done) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = done;
    port2.postMessage(0);
  }));
  const set = (at) => { slider.value = at; slider.dispatchEvent(new Event('input', { bubbles: true })); };
  const step = async (at) => {
    const from = performance.now();
    if (at !== null) set(at);
    await painted();
    return performance.now() - from;
  };
  const drag = async (most) => {
    const from = performance.now();
    for (let at = 0; at < ${String(frames)}; at += 1) { if (most > 0) set(at % most); await frame(); }
    return ${String(frames * 1_000)} / (performance.now() - from);
  };
  const steps = Number(slider.max) + 1;
  const paint = performance.getEntriesByName('first-contentful-paint')[0].startTime;
`;

interface Step {
  /** Until its frame has been painted; the screen asks for one when it does, so that nothing takes some ms, too. */
  readonly shownMs: number;
  /** Of the page's main thread, which other work of the machine does not lengthen. */
  readonly busyMs: number;
}

interface Found {
  readonly paintMs: number;
  readonly idle: readonly Step[];
  readonly short: readonly Step[];
  readonly long: readonly Step[];
  readonly idleFrames: number;
  readonly shortFrames: number;
  readonly allFrames: number;
}

async function measured(page: Page, file: string): Promise<Found> {
  await page.setViewportSize({ width: 1280, height: 900 });
  await page.goto(`file://${file}`);
  await page.waitForSelector('table.sheet');
  const inside = <Value>(expression: string) =>
    page.evaluate<Value>(`(async () => { ${hands} return ${expression}; })()`);
  const session = await page.context().newCDPSession(page);
  await session.send('Performance.enable', { timeDomain: 'threadTicks' });
  const busyS = async (): Promise<number> => {
    const { metrics } = await session.send('Performance.getMetrics');
    return metrics.find(({ name }) => name === 'TaskDuration')?.value ?? 0;
  };
  const step = async (at: number | null): Promise<Step> => {
    const before = await busyS();
    const shownMs = await inside<number>(`step(${String(at)})`);
    return { shownMs, busyMs: 1_000 * ((await busyS()) - before) };
  };
  const [idle, short, long]: [Step[], Step[], Step[]] = [[], [], []];
  const steps = await inside<number>('steps');
  for (let nth = 0; nth < strokes * steps; nth += 1) {
    const at = nth % steps;
    idle.push(await step(null));
    (at < shortSteps ? short : long).push(await step(at));
  }
  return {
    paintMs: await inside('paint'),
    idle,
    short,
    long,
    idleFrames: await inside('drag(0)'),
    shortFrames: await inside(`drag(${String(shortSteps)})`),
    allFrames: await inside('drag(steps)'),
  };
}

function rowsOf(what: string, steps: readonly Step[], key: keyof Step) {
  const sorted = steps.map((step) => step[key]).toSorted((a, b) => a - b);
  const row = (share: string, at: number) => ({
    name: `${what}, ${share}`,
    value: sorted[Math.min(at, sorted.length - 1)] ?? 0,
    unit: 'ms',
  });
  const count = sorted.length;
  return [
    row('median', Math.floor(count / 2)),
    row('nine of ten', Math.floor(count * 0.9)),
    row('the slowest', count - 1),
  ];
}

export async function run(): Promise<BenchReport> {
  const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-bench-'));
  const browser = await driver.launch({
    executablePath: await chromium.executablePath(),
    args: [...chromium.args.filter((arg) => !unwanted.test(arg)), '--disable-gpu'],
  });
  try {
    const file = path.join(folder, 'planner.html');
    const cli = path.resolve('dist', 'cli.js');
    const ran = spawnSync(process.execPath, [cli, 'planner', '--output', file], {
      encoding: 'utf8',
    });
    if (ran.status !== 0) throw new Error(`build first: npm run build (${ran.stderr})`);
    const found = await measured(await browser.newPage(), file);
    const fps = (name: string, value: number) => ({ name, value, unit: 'frames/s' });
    const [baseline] = rowsOf('nothing, until it is painted', found.idle, 'shownMs');
    if (baseline === undefined) throw new Error('nothing was measured');
    const rows = [
      baseline,
      ...rowsOf('a step to 10 s … 45 s, until it is painted', found.short, 'shownMs'),
      ...rowsOf('a step to 1 min … 1 h, until it is painted', found.long, 'shownMs'),
      ...rowsOf('a step to 10 s … 45 s, work of the page', found.short, 'busyMs'),
      ...rowsOf('a step to 1 min … 1 h, work of the page', found.long, 'busyMs'),
      fps('no drag', found.idleFrames),
      fps('a drag over 10 s … 45 s', found.shortFrames),
      fps('a drag over all', found.allFrames),
      { name: 'first paint', value: found.paintMs, unit: 'ms' },
    ];
    return {
      title: 'The planner in a headless browser, dragged through its check intervals',
      baseline: baseline.name,
      rows,
    };
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}
