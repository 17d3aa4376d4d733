// The planner in a headless browser: until the first paint, and a hand that drags a slider through all its steps, one
// a frame: bounds, battery and a replayed week anew each time. Aimed at: first paint under 1 s, a step under 50 ms.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import chromium from '@sparticuz/chromium';
import { chromium as driver, type Page } from 'playwright-core';
import type { BenchReport } from './contract.js';

const strokes = 4;

/** Runs in the page: one step of the slider, then two frames, so that what the step costs is in the first. */
const drag = `(async () => {
  const slider = document.querySelector('[aria-label="Check every, as a slider"]');
  const frame = () => new Promise(requestAnimationFrame);
  const lasted = async (step) => { await frame(); const from = performance.now(); step(); await frame(); await frame(); return performance.now() - from; };
  const steps = []; const idle = [];
  for (let stroke = 0; stroke < ${String(strokes)}; stroke += 1) {
    for (let at = 0; at <= Number(slider.max); at += 1) {
      idle.push(await lasted(() => {}));
      steps.push(await lasted(() => { slider.value = at; slider.dispatchEvent(new Event('input', { bubbles: true })); }));
    }
  }
  const share = (list, part) => list.toSorted((a, b) => a - b)[Math.floor(list.length * part)];
  const paint = performance.getEntriesByName('first-contentful-paint')[0].startTime;
  return { paint, idle: share(idle, 0.5), step: share(steps, 0.5), most: share(steps, 0.9), worst: Math.max(...steps) };
})()`;

async function measured(page: Page, file: string): Promise<Readonly<Record<string, number>>> {
  await page.goto(`file://${file}`);
  await page.waitForSelector('table.sheet');
  const found: Readonly<Record<string, number>> = await page.evaluate(drag);
  return found;
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
    const row = (name: string, key: string) => ({ name, value: found[key] ?? 0, unit: 'ms' });
    const rows = [
      row('two frames in which nothing happens', 'idle'),
      row('the same with a step of a drag, median', 'step'),
      row('the same, nine steps of ten', 'most'),
      row('the same, the slowest of all', 'worst'),
      row('first paint', 'paint'),
    ] as const;
    return {
      title: 'The planner in a headless browser, dragged through its check intervals',
      baseline: rows[0].name,
      rows,
    };
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}
