// The planner, opened from disk in a real browser.
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { durationText, randomStream } from '../../src/base/index.js';
import { ownFolder, runHere } from '../cli/run-here.js';
import { opened, seriousFindings, withBrowser } from './browser.js';

withBrowser();

async function plannerPage(options: Parameters<typeof opened>[1] = {}) {
  const folder = ownFolder();
  const ran = await runHere(folder, ['planner', '--out', 'planner.html']);
  expect(ran.status, ran.stderr).toBe(0);
  const file = path.join(folder, 'planner.html');
  expect(readFileSync(file).length).toBeLessThan(700_000);
  const watched = await opened(file, options);
  await watched.page.waitForSelector('.live-frame svg');
  const figure = (name: string) => watched.page.locator(`[data-figure="${name}"]`).innerText();
  return { ...watched, file, folder, figure };
}

describe('the planner in a browser', () => {
  it('opens from disk without a complaint or a request, and works in a worker', async () => {
    const { page, complaints } = await plannerPage();
    await page.waitForSelector('#bounds-title', { state: 'attached', timeout: 60_000 });
    await page.waitForSelector('section[aria-labelledby=years] li', { timeout: 60_000 });
    expect(await page.locator('section[aria-labelledby=years]').innerText()).toMatch(
      /Missed: [\d.]+ a year/u,
    );
    expect(complaints).toEqual([]);
  });

  it('gives the bounds that the command line gives', async () => {
    const { page, folder, figure } = await plannerPage();
    const stream = randomStream('planner', 'settings');
    for (let round = 0; round < 5; round += 1) {
      const check = `${stream.whole(20, 900)}s`;
      const recheck = `${stream.whole(5, 300)}s`;
      const open = String(stream.whole(1, 4));
      await page.locator('[id="watch.checkInterval"]').fill(check);
      await page.locator('[id="watch.recheckInterval"]').fill(recheck);
      await page.locator('[id="watch.escalationThreshold"]').fill(open);
      writeFileSync(
        path.join(folder, 'watch.yaml'),
        `watch: { checkInterval: ${check}, recheckInterval: ${recheck}, escalationThreshold: ${open} }\n`,
      );
      const { stdout } = await runHere(folder, ['bounds', '-c', 'watch.yaml', '--json']);
      const bounds = JSON.parse(stdout);
      expect(await figure('sure from')).toBe(durationText(bounds.alwaysReportedFromMs.atRest));
      expect(await figure('sure from, any state')).toBe(
        durationText(bounds.alwaysReportedFromMs.anyState),
      );
      expect(await figure('quiet up to')).toBe(durationText(bounds.neverAlarmedUpToMs));
      expect(await figure('told within')).toBe(durationText(bounds.worstDelayMs.atRest));
    }
  });

  it('follows a slider by keyboard, undoes, and shares what is set as a link', async () => {
    const { page, figure, file } = await plannerPage();
    const before = await figure('sure from');
    await page.getByLabel('Check every, as a slider').focus();
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('ArrowLeft');
    const after = await figure('sure from');
    expect(after).not.toBe(before);
    await expect.poll(() => page.url()).toContain('checkInterval');
    const { page: other } = await opened(file, { hash: new URL(page.url()).hash });
    await other.waitForSelector('.live-frame svg');
    expect(await other.locator('[data-figure="sure from"]').innerText()).toBe(after);
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await figure('sure from')).toBe(before);
  });

  it('says beside the field what is wrong, as the command line words it', async () => {
    const { page } = await plannerPage();
    await page.locator('[id="watch.checkInterval"]').fill('3');
    const words = await page.locator('[id="error-watch.checkInterval"]').innerText();
    const folder = ownFolder({ 'watch.yaml': 'watch: { checkInterval: 3 }\n' });
    const { stderr } = await runHere(folder, ['bounds', '-c', 'watch.yaml']);
    expect(stderr).toContain(words.split(/[;(]/u)[0]?.trim());
  });

  it('takes openings drawn by mouse, a door log and a watch file', async () => {
    const { page, complaints, figure } = await plannerPage();
    const of = () => page.locator('dt', { hasText: 'leave-opens' }).innerText();
    const before = await of();
    const box = await page.locator('.live-frame').boundingBox();
    if (box === null) throw new Error('the timeline is there');
    await page.mouse.move(box.x + box.width - 60, box.y + 40);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width - 30, box.y + 40, { steps: 3 });
    await page.mouse.up();
    expect(await of()).not.toBe(before);
    const drop = (name: string, text: string) =>
      page.evaluate(
        `(() => { const data = new DataTransfer(); data.items.add(new File([${JSON.stringify(text)}], ${JSON.stringify(name)}));
          document.querySelector('main').dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true })); })()`,
      );
    await drop(
      'doors.csv',
      'time,state\n2026-05-08T06:00:00Z,open\n2026-05-08T06:20:00Z,shut\n2026-05-08T09:00:00Z,open\n2026-05-08T09:00:20Z,shut\n',
    );
    await page.locator('#week', { hasText: 'doors.csv' }).waitFor();
    expect(await of()).toBe('missed, of 1 leave-opens');
    await drop('watch.yaml', 'watch: { checkInterval: 1m }\n');
    await expect.poll(() => figure('sure from')).toBe('2 min 0.8 s');
    expect(await figure('a charge lasts')).toBe('–');
    expect(complaints).toEqual([]);
  });

  it.each(['light', 'dark'] as const)(
    'has no serious finding of the accessibility checker, %s',
    async (colorScheme) => {
      const { page } = await plannerPage({ colorScheme });
      expect(await seriousFindings(page)).toEqual([]);
    },
  );

  it('keeps to the width of a phone', async () => {
    const { page } = await plannerPage({ viewport: { width: 390, height: 800 } });
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(390);
  });
});
