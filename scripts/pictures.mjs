// Makes the pictures of the README and docs: the detection curve of the default watch and its comb of checks, a week as a chart, and the report
// and the planner as a browser shows them. The browser comes with the development packages.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import chromium from '@sparticuz/chromium';
import { chromium as driver } from 'playwright-core';
import { combLoop } from './support/comb-loop.mjs';
import { runNode } from './support/process.mjs';
import { PlainError } from './support/require-tool.mjs';
import { ensureBuilt, ensureInstalled, firstLine, root } from './support/set-up.mjs';

const pictures = path.join(root, 'docs', 'pictures');
const patienceMs = 120_000;
const demo = ['scenarios/demo/week.yaml', '-c', 'scenarios/demo/watch.yaml'];

/** @param {readonly string[]} args */
async function dozewatch(args) {
  const { status, output } = await runNode([path.join('dist', 'cli.js'), ...args], {
    cwd: root,
    capture: true,
  });
  // 1: the watch broke its promise, which is what the demo shows.
  if (status > 1) throw new PlainError(output);
  return output;
}

/** @param {string} scratch */
async function makePictures(scratch) {
  await dozewatch(['chart', ...demo, '-o', path.join(pictures, 'week.svg')]);
  const curve = path.join(pictures, 'detection.svg');
  const proved = await dozewatch(['bounds', '--leave-open-after', '3m', '--chart', curve]);
  const json = await dozewatch(['bounds', '--leave-open-after', '3m', '--json']);
  const loop = combLoop({
    picture: readFileSync(curve, 'utf8'),
    bounds: JSON.parse(json),
    lengthMs: 180_000,
    sentence: /^A door left open .*$/mu.exec(proved)?.[0] ?? '',
  });
  writeFileSync(path.join(pictures, 'comb.svg'), loop);
  const report = path.join(scratch, 'report.html');
  const planner = path.join(scratch, 'planner.html');
  await dozewatch(['report', ...demo, '--output', report]);
  await dozewatch(['planner', '--output', planner]);
  const browser = await driver.launch({
    executablePath: await chromium.executablePath(),
    args: chromium.args.filter((arg) => arg !== '--single-process'),
    headless: true,
  });
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 860 } });
    page.setDefaultTimeout(patienceMs);
    await page.goto(pathToFileURL(report).href);
    await page.waitForSelector('.live-rows svg');
    await page.screenshot({ path: path.join(pictures, 'report.png') });
    await page.goto(pathToFileURL(planner).href);
    await page.waitForSelector('#bounds-title', { state: 'attached' });
    await page.screenshot({ path: path.join(pictures, 'planner.png') });
  } finally {
    await browser.close();
  }
}

const scratch = mkdtempSync(path.join(tmpdir(), 'dozewatch-pictures-'));
try {
  await ensureInstalled();
  await ensureBuilt();
  await makePictures(scratch);
  console.log(
    'made detection.svg, comb.svg, week.svg, report.png and planner.png in docs/pictures',
  );
} catch (error) {
  console.error(error instanceof PlainError ? error.message : firstLine(error));
  process.exitCode = 1;
} finally {
  rmSync(scratch, { recursive: true, force: true });
}
