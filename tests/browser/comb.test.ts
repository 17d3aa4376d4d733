// The comb of the planner under a mouse, a finger and a key: it follows each, and says what becomes of the opening there.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runHere } from '../cli/run-here.js';
import { opened, patienceMs, withBrowser } from './browser.js';

withBrowser();

const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-comb-'));
const file = path.join(folder, 'planner.html');

beforeAll(async () => {
  const ran = await runHere(folder, ['planner', '--no-config', '--output', 'planner.html']);
  expect(ran.status, ran.stderr).toBe(0);
}, patienceMs);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const said = (page: Page) => page.locator('.live-comb .hint').innerText();

/** The seconds from the opening to the first check, as the sentence below the comb has them. */
async function firstCheckSeconds(page: Page): Promise<number> {
  const [, minutes = '0', seconds = '0'] =
    /^First check (?:(\d+) min )?(?:([\d.]+) s )?after/u.exec(await said(page)) ?? [];
  return 60 * Number(minutes) + Number(seconds);
}

/** The middle of the comb, in sight. */
async function held(page: Page) {
  const comb = page.locator('.live-comb svg');
  await comb.evaluate((node) => node.scrollIntoView({ block: 'center' }));
  const box = await comb.boundingBox();
  if (box === null) throw new Error('the comb is on the page');
  return { x: box.x + box.width / 2, y: box.y + 20 };
}

describe('the comb', { timeout: 4 * patienceMs }, () => {
  it('follows a mouse that holds it, and no other', async () => {
    const { page, complaints } = await opened(file);
    await page.waitForSelector('.live-comb svg');
    const { x, y } = await held(page);
    const before = await firstCheckSeconds(page);
    expect(await said(page)).toContain('so it is missed');
    await page.mouse.move(x, y);
    await page.mouse.down();
    for (const step of [10, 30, 60]) await page.mouse.move(x - step, y);
    await page.mouse.up();
    const after = await firstCheckSeconds(page);
    expect(after).toBeLessThan(before - 10);
    expect(await said(page)).toContain('the alert is decided');
    await page.mouse.move(x + 50, y);
    expect(await firstCheckSeconds(page)).toBe(after);
    expect(complaints).toEqual([]);
  });

  it('follows a finger sideways, and lets the page scroll', async () => {
    const { page } = await opened(file, {
      viewport: { width: 390, height: 844 },
      hasTouch: true,
      isMobile: true,
    });
    await page.waitForSelector('.live-comb svg');
    const { x, y } = await held(page);
    const touches = await page.context().newCDPSession(page);
    const touch = (
      type: 'touchStart' | 'touchMove' | 'touchEnd',
      touchPoints: { x: number; y: number }[],
    ) => touches.send('Input.dispatchTouchEvent', { type, touchPoints });
    const before = await firstCheckSeconds(page);
    await touch('touchStart', [{ x, y }]);
    for (const step of [5, 15, 30]) await touch('touchMove', [{ x: x - step, y }]);
    await touch('touchEnd', []);
    await expect
      .poll(() => firstCheckSeconds(page), { timeout: patienceMs })
      .toBeLessThan(before - 10);
    const slid = await firstCheckSeconds(page);
    const top = Number(await page.evaluate('scrollY'));
    await touch('touchStart', [{ x, y }]);
    for (const step of [20, 60, 120]) await touch('touchMove', [{ x, y: y - step }]);
    await touch('touchEnd', []);
    await expect
      .poll(async () => Number(await page.evaluate('scrollY')), { timeout: patienceMs })
      .toBeGreaterThan(top);
    expect(await firstCheckSeconds(page)).toBe(slid);
  });

  it('moves by keys, and says each position in words', async () => {
    const { page } = await opened(file);
    const slider = page.getByLabel('Position of the comb of checks');
    await slider.focus();
    const before = await slider.getAttribute('aria-valuetext');
    for (let press = 0; press < 20; press += 1) await page.keyboard.press('ArrowRight');
    const after = await slider.getAttribute('aria-valuetext');
    expect(after).not.toBe(before);
    expect(after).toBe(await said(page));
    await page.keyboard.press('Home');
    expect(await said(page)).toContain('the alert is decided');
  });
});
