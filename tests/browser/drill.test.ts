// The page of a drill, used as at the door: in a real browser, with a clock that the test moves on.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, describe, expect, it } from 'vitest';
import { shippedScript } from '../../src/cli/layout/page-script.js';
import { parseDrillRecord } from '../../src/drill/index.js';
import { drillPage, type SheetStep } from '../../src/sheets/index.js';
import { contrast, opened, seriousFindings, withBrowser } from './browser.js';

withBrowser();

const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-drill-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const hostile = `<img src=x onerror=alert(1)></script><script>alert(2)</script>`;
const step: SheetStep = {
  lasts: '5 min',
  endsMs: 300_000,
  actions: [
    { atMs: 0, at: '0', deed: 'connect the battery' },
    { atMs: 60_000, at: '1 min', deed: 'open the door wide' },
    { atMs: 300_000, at: '5 min', deed: 'the end: disconnect the battery' },
  ],
  windows: [{ fromMs: 170_000, toMs: 190_000 }],
  expectation: 'a message between 2 min 50 s and 3 min 10 s',
  purpose: hostile,
  exactness: '',
};
const quiet: SheetStep = { ...step, windows: [], expectation: 'no message until 5 min' };

/** Opens the page, for most tests with a clock that stands still. */
async function atTheDoor(clock: 'runs' | 'stands' = 'stands') {
  const file = path.join(folder, 'drill.html');
  const html = drillPage({
    data: { watch: hostile, steps: [step, quiet, quiet], judge: 'dozewatch drill' },
    title: hostile,
    summary: [['steps', '3']],
    cautions: ['Move the goods first.'],
    howTo: ['Each step begins at 0.'],
    footer: 'A footer.',
    script: await shippedScript('drill'),
  });
  writeFileSync(file, html);
  const watched = await opened(file);
  if (clock === 'runs') return watched;
  await watched.page.clock.install({ time: 0 });
  await watched.page.reload();
  await watched.page.clock.pauseAt(60_000);
  return watched;
}

/** From the press of the key, over the seconds without a battery, to an instant after the power-on. */
async function beginAndRun(page: Page, afterMs: number): Promise<void> {
  await page.getByRole('button', { name: 'Start' }).click();
  await page.clock.fastForward(10_000 + afterMs);
  await page.clock.runFor(200);
}

describe('the page of a drill', () => {
  it('counts to the next action, notes messages, and gives out a record that drill reads', async () => {
    const { page, complaints } = await atTheDoor();
    await beginAndRun(page, 50_500);
    expect(await page.locator('.clock').innerText()).toMatch(/^0:5[01]$/u);
    expect(await page.locator('.deed').innerText()).toBe('Open the door wide');
    await page.clock.fastForward(129_500);
    await page.clock.runFor(200);
    await page.keyboard.press('m');
    await page.keyboard.press('m');
    await page.getByRole('button', { name: 'Remove' }).last().click();
    await page.clock.fastForward(125_000);
    await page.clock.runFor(200);
    await beginAndRun(page, 304_000);
    const text = await page.locator('.record textarea').inputValue();
    expect(text).toMatch(/^step,message\n1,3:0[01]\n2,none\n$/u);
    const read = parseDrillRecord(text, 'results.csv', [300_000, 300_000, 300_000]);
    expect(read.ok && [...read.value.keys()]).toEqual([1, 2]);
    await page.reload();
    expect(await page.locator('.record summary').innerText()).toContain(
      '2 of 3 steps done, 2 passed',
    );
    expect(complaints).toEqual([]);
  });

  it('gives the signal that a key tries, before each action', async () => {
    const { page } = await atTheDoor();
    await page.keyboard.press('t');
    expect(await page.locator('.door.flash').count()).toBe(1);
    await page.clock.runFor(1_000);
    expect(await page.locator('.door.flash').count()).toBe(0);
    await beginAndRun(page, 56_600);
    const flashes: boolean[] = [];
    for (let tenths = 0; tenths < 8; tenths += 1) {
      await page.clock.runFor(100);
      flashes.push((await page.locator('.door.flash').count()) > 0);
    }
    expect(flashes).toContain(true);
    expect(flashes).toContain(false);
  });

  it('is for everybody, also in the dark, and prints without the clock', async () => {
    const { page, complaints } = await atTheDoor('runs');
    expect(await seriousFindings(page)).toEqual([]);
    await page.emulateMedia({ colorScheme: 'dark' });
    expect(await seriousFindings(page, { rule: contrast })).toEqual([]);
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.door').isVisible()).toBe(false);
    expect(await page.locator('.step').count()).toBe(3);
    expect(complaints).toEqual([]);
  });
});
