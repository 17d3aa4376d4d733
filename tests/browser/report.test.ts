// The report, opened from disk in a real browser.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ownFolder, runHere } from '../cli/run-here.js';
import {
  contrast,
  opened,
  patienceMs,
  seriousFindings,
  type Watched,
  withBrowser,
} from './browser.js';

withBrowser();

const hostile = `<img src=x onerror=alert(1)></script><script>alert(2)</script>]]>"'&`;
const watch = `${readFileSync('scenarios/demo/watch.yaml', 'utf8').replace(/^supply:[\s\S]*?(?=^\w|$(?![\s\S]))/mu, '')}\nsupply: { preset: bare-board, capacity: 1200mAh }\n`;
const week = readFileSync('scenarios/demo/week.yaml', 'utf8');
const named = `name: ${JSON.stringify(hostile)}
start: 2026-05-08T06:00:00+02:00
length: 6h
door:
  - { at: "07:30", for: 22m, note: ${JSON.stringify(hostile)} }
  - { at: "09:00", for: 5m, note: ${JSON.stringify(hostile)} }
network: [{ down: "07:32", for: 1h }]
`;

const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-report-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const made = new Map<string, Promise<string>>();

/** Made once: a report is only looked at. */
function reportOf(scenario: string): Promise<string> {
  const known = made.get(scenario) ?? newReportOf(scenario);
  made.set(scenario, known);
  return known;
}

async function newReportOf(scenario: string): Promise<string> {
  const own = mkdtempSync(path.join(folder, 'report-'));
  writeFileSync(path.join(own, 'watch.yaml'), watch);
  writeFileSync(path.join(own, 'a.yaml'), scenario);
  const ran = await runHere(own, ['report', 'a.yaml', '-c', 'watch.yaml', '--output', 'r.html']);
  expect(ran.status, ran.stderr).toBe(0);
  return path.join(own, 'r.html');
}

/** The third day, by keyboard; its strip opens in place. */
async function opensDay(page: Page): Promise<void> {
  await page.locator('.live-row').first().focus();
  for (const key of ['ArrowDown', 'ArrowDown', 'Enter']) await page.keyboard.press(key);
  await page.waitForSelector('.live-opened .live-frame svg');
}

describe('a report in a browser', () => {
  /** Of the week, its third day opened: one page for all that is tried on it. */
  let on: Watched;

  beforeAll(async () => {
    on = await opened(await reportOf(week));
    await opensDay(on.page);
  }, 2 * patienceMs);

  it('opens from disk without a complaint or a request, and says the verdict first', async () => {
    const { page, complaints } = on;
    const text = await page.locator('main').innerText();
    expect(text.slice(0, 150)).toContain('1 of 4 leave-opens was MISSED');
    expect(complaints).toEqual([]);
  });

  it('has no serious finding of the accessibility checker, light and dark', async () => {
    const { page } = on;
    expect(await seriousFindings(page)).toEqual([]);
    await page.emulateMedia({ colorScheme: 'dark' });
    expect(await seriousFindings(page, { rule: contrast })).toEqual([]);
    await page.emulateMedia({ colorScheme: 'light' });
  });

  it('zooms to a millisecond and tells of checks by keyboard, and pans by mouse', async () => {
    const { page, complaints } = on;
    const frame = page.locator('.live-frame');
    await frame.focus();
    await page.keyboard.press('.');
    const told = page.locator('.live-words');
    expect(await told.innerText()).toMatch(/Check at .*the contact reads/u);
    await page.keyboard.press('n');
    expect(await told.innerText()).toMatch(/Why: |decided|opening/iu);
    for (let zoom = 0; zoom < 30; zoom += 1) await page.keyboard.press('+');
    expect(await page.locator('.live-span').innerText()).toMatch(/ 20 ms shown/u);
    await page.keyboard.press('Home');
    for (let zoom = 0; zoom < 4; zoom += 1) await page.keyboard.press('+');
    const before = await page.locator('.live-span').innerText();
    const box = await frame.boundingBox();
    if (box === null) throw new Error('the timeline is there');
    await page.mouse.move(box.x + 500, box.y + 40);
    await page.mouse.down();
    await page.mouse.move(box.x + 300, box.y + 40, { steps: 4 });
    await page.mouse.up();
    expect(await page.locator('.live-span').innerText()).not.toBe(before);
    expect(complaints).toEqual([]);
  });

  it('takes hostile names for what they are: text', async () => {
    const { page, complaints } = await opened(await reportOf(named));
    await page.waitForSelector('.live-frame svg');
    expect(await page.locator('h1').innerText()).toBe(hostile);
    expect(await page.locator('img').count()).toBe(0);
    // Its data, its script as it is carried, what unpacks that, and the script itself.
    expect(await page.locator('script').count()).toBe(4);
    expect(complaints).toEqual([]);
  });

  it('shares its live timeline with chart --html', async () => {
    const folder = ownFolder({ 'watch.yaml': watch, 'a.yaml': week });
    await runHere(folder, ['chart', 'a.yaml', '-c', 'watch.yaml', '-o', 'c.html']);
    const { page, complaints } = await opened(path.join(folder, 'c.html'));
    await opensDay(page);
    expect(complaints).toEqual([]);
  });

  it('keeps to the width of a phone', async () => {
    const { page } = on;
    await page.setViewportSize({ width: 390, height: 800 });
    // What is live follows the width a frame later.
    await expect
      .poll(() => page.evaluate('document.documentElement.scrollWidth'), { timeout: patienceMs })
      .toBe(390);
  });

  it('prints light, without what only works on a screen, and no wider than the paper', async () => {
    // 182 mm: A4 within its margins.
    const page = await opened(await reportOf(named), {
      viewport: { width: 688, height: 900 },
      colorScheme: 'dark',
    }).then((one) => one.page);
    await page.waitForSelector('.live-frame svg');
    await page.emulateMedia({ media: 'print' });
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(688);
    expect(await page.evaluate('getComputedStyle(document.body).backgroundColor')).toBe(
      'rgb(255, 255, 255)',
    );
    expect(await page.locator('.live-section').isVisible()).toBe(false);
    expect(await page.locator('button:visible').count()).toBe(0);
    const wider = `Array.from(document.querySelectorAll('.wide')).filter((one) => one.scrollWidth > 688).length`;
    expect(await page.evaluate(wider)).toBe(0);
  });

  it('folds what is more than a reader takes in at once', async () => {
    const missed = Array.from({ length: 40 }, (_, hour) => `  - at +${hour}h10m for 5m30s`);
    const { page } = await opened(
      await reportOf(
        `name: Many\nstart: 2026-05-08T06:00:00Z\nlength: 3d\nnetwork: [{ down: +1m, for: 70h }]\ndoor:\n${missed.join('\n')}\n`,
      ),
    );
    expect(await page.locator('tr:has(.bad-word):visible').count()).toBeLessThan(35);
    await page.locator('summary').click();
    expect(await page.locator('tr:has(.bad-word):visible').count()).toBeGreaterThanOrEqual(40);
  });
});
