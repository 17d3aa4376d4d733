// The planner in a headless browser: until the first paint, and a hand that drags a slider through all its steps:
// bounds, battery and a replayed week anew each time. Aimed at: first paint under 1 s, a step under 50 ms, 60 frames/s.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import chromium from '@sparticuz/chromium';
import { chromium as driver, type Page } from 'playwright-core';
import type { BenchReport } from './contract.js';

const strokes = 3;
/** Frames of a drag that does not stop. */
const frames = 120;

/**
 * Runs in the page. A step is measured from the event until its frame has been painted; that is not before the screen
 * asks for a frame, so a step without any work takes some ms, too: the baseline.
 */
const drag = `(async () => {
  const slider = document.querySelector('[aria-label="Check every, as a slider"]');
  const frame = () => new Promise(requestAnimationFrame);
  const painted = () => frame().then(() => new Promise((done) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = done;
    port2.postMessage(0);
  }));
  const lasted = async (step) => { const from = performance.now(); step(); await painted(); return performance.now() - from; };
  const set = (at) => { slider.value = at; slider.dispatchEvent(new Event('input', { bubbles: true })); };
  const last = Number(slider.max);
  const idle = []; const short = []; const long = [];
  for (let stroke = 0; stroke < ${String(strokes)}; stroke += 1) {
    for (let at = 0; at <= last; at += 1) {
      idle.push(await lasted(() => {}));
      (at < 5 ? short : long).push(await lasted(() => set(at)));
    }
  }
  const drags = async (most) => {
    const from = performance.now();
    for (let at = 0; at < ${String(frames)}; at += 1) { set(at % most); await frame(); }
    return ${String(frames * 1_000)} / (performance.now() - from);
  };
  const share = (list, part) => list.toSorted((a, b) => a - b)[Math.floor(list.length * part)];
  const told = (list) => ({ median: share(list, 0.5), most: share(list, 0.9), worst: Math.max(...list) });
  const paint = performance.getEntriesByName('first-contentful-paint')[0].startTime;
  return { paint, idle: told(idle), short: told(short), long: told(long), shortFrames: await drags(5), allFrames: await drags(last) };
})()`;

interface Told {
  readonly median: number;
  readonly most: number;
  readonly worst: number;
}

interface Found {
  readonly paint: number;
  readonly idle: Told;
  /** Intervals of 10 s to 45 s. */
  readonly short: Told;
  readonly long: Told;
  readonly shortFrames: number;
  readonly allFrames: number;
}

async function measured(page: Page, file: string): Promise<Found> {
  await page.setViewportSize({ width: 1280, height: 900 });
  await page.goto(`file://${file}`);
  await page.waitForSelector('table.sheet');
  return page.evaluate<Found>(drag);
}

export async function run(): Promise<BenchReport> {
  const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-bench-'));
  const browser = await driver.launch({
    executablePath: await chromium.executablePath(),
    args: chromium.args.filter((arg) => !['--single-process', '--no-zygote'].includes(arg)),
  });
  try {
    const file = path.join(folder, 'planner.html');
    const cli = path.resolve('dist', 'cli.js');
    const ran = spawnSync(process.execPath, [cli, 'planner', '--out', file], { encoding: 'utf8' });
    if (ran.status !== 0) throw new Error(`build first: npm run build (${ran.stderr})`);
    const found = await measured(await browser.newPage(), file);
    const ms = (name: string, value: number) => ({ name, value, unit: 'ms' });
    const steps = (what: string, { median, most, worst }: Told) => [
      ms(`a step ${what}, median`, median),
      ms(`a step ${what}, nine of ten`, most),
      ms(`a step ${what}, the slowest`, worst),
    ];
    const baseline = ms('nothing happens, until it is painted', found.idle.median);
    const rows = [
      baseline,
      ...steps('to 10 s … 45 s', found.short),
      ...steps('to 1 min … 1 h', found.long),
      { name: 'a drag over 10 s … 45 s', value: found.shortFrames, unit: 'frames/s' },
      { name: 'a drag over all', value: found.allFrames, unit: 'frames/s' },
      ms('first paint', found.paint),
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
