// The planner, opened from disk in a real browser: once, for all that is tried on it.
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { randomStream, roundedDurationText } from '../../src/base/index.js';
import { ownFolder, runHere } from '../cli/run-here.js';
import {
  contrast,
  dropOn,
  givenBy,
  opened,
  patienceMs,
  seriousFindings,
  type Watched,
  withBrowser,
} from './browser.js';

withBrowser();

const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-planner-'));
const file = path.join(folder, 'planner.html');
let on: Watched;

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const figure = (name: string, { page } = on) => page.locator(`[data-figure="${name}"]`).innerText();
const comes = (what: () => Promise<string>) => expect.poll(what, { timeout: patienceMs });
const undo = () => on.page.getByRole('button', { name: 'Undo' }).click();
const given = (name: string) => givenBy(on.page, name);
const drop = (name: string, text: string) => dropOn(on.page, name, text);

describe('the planner in a browser', { timeout: 4 * patienceMs }, () => {
  beforeAll(async () => {
    const ran = await runHere(folder, ['planner', '--output', 'planner.html']);
    expect(ran.status, ran.stderr).toBe(0);
    on = await opened(file);
    await on.page.waitForSelector('.live-frame svg');
  }, 2 * patienceMs);

  afterEach(async () => {
    await on.page.getByRole('button', { name: 'Start over' }).click();
  });

  it('opens from disk without a complaint or a request, and works in a worker', async () => {
    const { page, complaints } = on;
    // A page to keep and to send: what comes to it is noticed here long before it is large.
    expect(readFileSync(file).length).toBeLessThan(550_000);
    await page.waitForSelector('#bounds-title', { state: 'attached' });
    const years = page.locator('section[aria-labelledby=years]');
    await comes(() => years.innerText()).toMatch(/missed per year\s+[\d.]+/u);
    const open = page.locator('.live-row[aria-expanded=true]');
    expect(await open.getAttribute('aria-label'), 'the worst day').toMatch(/missed|false alarm/u);
    expect(complaints).toEqual([]);
  });

  it('has no serious finding of the accessibility checker, light and dark, and fits a phone', async () => {
    const { page } = on;
    expect(await seriousFindings(page)).toEqual([]);
    await page.emulateMedia({ colorScheme: 'dark' });
    expect(await seriousFindings(page, { rule: contrast })).toEqual([]);
    await page.emulateMedia({ colorScheme: 'light' });
    await page.setViewportSize({ width: 390, height: 800 });
    // What is live follows the width a frame later.
    await expect
      .poll(() => page.evaluate('document.documentElement.scrollWidth'), { timeout: patienceMs })
      .toBe(390);
    // The strip that stays leaves most of the screen to what it is about.
    await page.evaluate('scrollTo(0, 900)');
    const strip = () =>
      page.evaluate(`document.querySelector('.lengths').getBoundingClientRect().bottom`);
    await expect.poll(strip, { timeout: patienceMs }).toBeLessThan(230);
    await page.evaluate('scrollTo(0, 0)');
    const sheet = page.getByRole('button', { name: 'Settings', exact: true });
    await sheet.click();
    // The pointer still lies on it.
    expect(await seriousFindings(page, { within: '.sheet-button', rule: contrast })).toEqual([]);
    await page.getByRole('button', { name: 'Close settings' }).click();
    await page.setViewportSize({ width: 1200, height: 900 });
  });

  it('gives the bounds that the command line gives', async () => {
    const { page } = on;
    const stream = randomStream('planner', 'settings');
    for (let round = 0; round < 2; round += 1) {
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
      const { alwaysReportedFromMs, neverAlarmedUpToMs, worstDelayMs } = JSON.parse(stdout);
      await comes(() => figure('sure from')).toBe(
        roundedDurationText(alwaysReportedFromMs.atRest, 'at most'),
      );
      expect(await figure('sure from, any state')).toBe(
        roundedDurationText(alwaysReportedFromMs.anyState, 'at most'),
      );
      expect(await figure('quiet up to')).toBe(roundedDurationText(neverAlarmedUpToMs, 'at least'));
      expect(await figure('reported within')).toBe(
        roundedDurationText(worstDelayMs.atRest, 'at most'),
      );
    }
  });

  it('follows a slider by key and by hand, a whole stroke is one step to undo, and a link carries it', async () => {
    const { page } = on;
    const setTo = () => page.locator('[id="watch.checkInterval"]').inputValue();
    await page.locator('[id="watch.checkInterval"]').fill('3m');
    await comes(() => figure('sure from')).toBe('6 min 1 s');
    const before = await figure('sure from');
    const slider = page.getByLabel('Check every, as a slider', { exact: true });
    await slider.focus();
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('ArrowLeft');
    await comes(setTo).toBe('2m');
    const after = await figure('sure from');
    expect(after).not.toBe(before);
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => page.url(), { timeout: patienceMs }).toContain('150s');
    const { page: other } = await opened(file, { hash: new URL(page.url()).hash });
    await other.waitForSelector('.live-frame svg');
    expect(await other.locator('[id="watch.checkInterval"]').inputValue()).toBe('150s');
    await other.close();
    const box = await slider.boundingBox();
    if (box === null) throw new Error('the slider is there');
    const y = box.y + box.height / 2;
    await page.mouse.move(box.x + box.width * 0.45, y);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width * 0.9, y, { steps: 6 });
    await page.mouse.up();
    await comes(setTo).toMatch(/m$/u);
    await undo();
    await comes(setTo).toBe('150s');
    await undo();
    await comes(() => figure('sure from')).toBe(after);
    await undo();
    await undo();
    await comes(() => figure('sure from')).toBe(before);
    for (const keys of ['Control+Shift+Z', 'Control+y']) await page.keyboard.press(keys);
    await comes(() => figure('sure from')).toBe(after);
    await page.getByRole('button', { name: 'Redo' }).click();
    await comes(setTo).toBe('150s');
    await page.keyboard.press('Control+z');
    await comes(() => figure('sure from')).toBe(after);
  });

  it('says beside the field what is wrong, as the command line words it', async () => {
    await on.page.locator('[id="watch.checkInterval"]').fill('3');
    const words = await on.page.locator('[id="error-watch.checkInterval"]').innerText();
    const own = ownFolder({ 'watch.yaml': 'watch: { checkInterval: 3 }\n' });
    const { stderr } = await runHere(own, ['bounds', '-c', 'watch.yaml']);
    expect(stderr).toContain(words.split(/[;(]/u)[0]?.trim());
  });

  it('gives out the watch file and the C code that the command line writes', async () => {
    await on.page.locator('[id="watch.escalationThreshold"]').fill('3');
    const own = ownFolder({ 'the planner': readFileSync(await given('Watch file'), 'utf8') });
    expect((await runHere(own, ['emit', 'c', '-c', 'the planner', '-o', '.'])).status).toBe(0);
    for (const [name, written] of [
      ['C header', 'watch.h'],
      ['C source', 'watch.c'],
    ] as const) {
      const text = readFileSync(await given(name), 'utf8');
      expect(text).toBe(readFileSync(path.join(own, written), 'utf8'));
    }
  });

  it('gives out the report that the command line makes of the files given out, and it opens from disk', async () => {
    await on.page.locator('[id="watch.checkInterval"]').fill('7m');
    await comes(() => figure('sure from')).toBe('14 min 1 s');
    const own = ownFolder({
      'watch.yaml': readFileSync(await given('Watch file'), 'utf8'),
      'scenario.yaml': readFileSync(await given('Scenario'), 'utf8'),
    });
    const report = path.join(own, 'from-the-planner.html');
    copyFileSync(await given('Report'), report);
    const args = ['report', 'scenario.yaml', '--config', 'watch.yaml', '--output', 'report.html'];
    expect((await runHere(own, args)).status).toBe(0);
    // The planner's own script makes a report live, too.
    const withoutScript = (file: string) =>
      readFileSync(file, 'utf8')
        .replace(/<script type="text\/plain" id="dw-packed">[^<]*<\/script>/u, '')
        .replaceAll(/'sha256-[^']*'/gu, '');
    expect(withoutScript(report)).toBe(withoutScript(path.join(own, 'report.html')));
    const { page, complaints } = await opened(report);
    await page.waitForSelector('.live-calendar svg');
    expect(await page.locator('.verdict').innerText()).toContain('leave-open');
    expect(complaints).toEqual([]);
    await page.close();
  });

  it('takes openings drawn by mouse, a door log and a watch file', async () => {
    const { page, complaints } = on;
    const of = () => figure('missed leave-opens');
    const before = await of();
    const frame = page.locator('.live-frame');
    await frame.scrollIntoViewIfNeeded();
    const box = await frame.boundingBox();
    if (box === null) throw new Error('the timeline is there');
    await page.mouse.move(box.x + box.width - 60, box.y + 40);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width - 30, box.y + 40, { steps: 3 });
    await page.mouse.up();
    await comes(of).not.toBe(before);
    await drop(
      'doors.csv',
      'time,state\n2026-05-08T06:00:00Z,open\n2026-05-08T06:20:00Z,shut\n2026-05-08T09:00:00Z,open\n2026-05-08T09:00:20Z,shut\n',
    );
    await comes(of).toBe('0 of 1');
    await drop('watch.yaml', 'watch: { checkInterval: 1m }\n');
    await comes(() => figure('sure from')).toBe('2 min 1 s');
    expect(await figure('a charge lasts')).toBe('–');
    expect(complaints).toEqual([]);
  });

  it('takes an opening drawn by keyboard alone, and one begun can be given up', async () => {
    const { page } = on;
    const of = () => figure('missed leave-opens');
    const before = await of();
    await page.locator('.live-frame').focus();
    await page.keyboard.press('.');
    await page.keyboard.press('d');
    await page.keyboard.press('Escape');
    expect(await page.locator('.live-drawn').count()).toBe(0);
    await page.keyboard.press('d');
    await page.keyboard.press('Shift+ArrowRight');
    expect(await page.locator('.live-drawn').count()).toBe(1);
    await page.keyboard.press('d');
    await comes(of).not.toBe(before);
    await page.keyboard.press('Control+z');
    await comes(of).toBe(before);
  });

  it('scales how the door is used, in the scenario given out, too', async () => {
    const { page } = on;
    const leaveOpens = async () => {
      const words = await figure('missed leave-opens');
      return Number(/ of ([\d,]+)$/u.exec(words)?.[1]?.replaceAll(',', ''));
    };
    expect(await page.locator('[id="usage.leaveOpenShare"]').getAttribute('placeholder')).toBe(
      '2%',
    );
    await page.locator('[id="usage.openingsPerDay"]').fill('100');
    await page.locator('[id="usage.leaveOpenShare"]').fill('50%');
    await expect.poll(leaveOpens, { timeout: patienceMs }).toBeGreaterThan(100);
    const own = ownFolder({ 'scenario.yaml': readFileSync(await given('Scenario'), 'utf8') });
    const { stdout } = await runHere(own, ['replay', 'scenario.yaml', '--json']);
    expect(JSON.parse(stdout).replays[0].summary.leaveOpens).toBe(await leaveOpens());
    await page.locator('[id="usage.openingsPerDay"]').fill('many');
    const error = page.locator('[id="error-usage.openingsPerDay"]');
    expect(await error.innerText()).toContain('expected a number from 0 to 500');
  });

  it('shows the data sheet, searches settings, and puts one to use that Undo takes back', async () => {
    const { page, complaints } = on;
    const sheet = page.getByRole('group', { name: 'Data sheet' });
    await comes(() => sheet.innerText()).toContain('240.800');
    // A door that is seldom opened: a sixth of the work.
    await page.locator('#profile').selectOption('seed-bank');
    await page.getByRole('button', { name: 'Search settings' }).click();
    const choicesOf = '[aria-label="Settings that no others beat"]';
    const choices = page.locator(choicesOf);
    await choices.waitFor();
    const taken = choices.locator('tr.recommended');
    for (const width of [1200, 390]) {
      await page.setViewportSize({ width, height: 900 });
      const box = await taken.getByRole('button').boundingBox();
      expect((box?.x ?? width) + (box?.width ?? 0)).toBeLessThan(width);
    }
    await page.setViewportSize({ width: 1200, height: 900 });
    const [, , , , , wakesOn = '', sureFrom = ''] = await taken.locator('td').allInnerTexts();
    await taken.getByRole('button').click();
    // The table rounds up to whole seconds.
    const roundedUp = async (): Promise<string> =>
      (await figure('sure from')).replace(
        /[\d.]+ s$/u,
        (seconds) => `${Math.ceil(Number.parseFloat(seconds))} s`,
      );
    await comes(roundedUp).toBe(sureFrom);
    expect(await page.locator('[id="watch.wakeOn"]').inputValue()).toBe(wakesOn);
    expect(await taken.getByRole('button').innerText()).toBe('In use');
    expect(await seriousFindings(page, { within: choicesOf })).toEqual([]);
    await undo();
    await comes(() => figure('sure from')).toBe('4 min 1 s');
    expect(complaints).toEqual([]);
  });

  it('lets another profile use the door, and a link carries it', async () => {
    const { page } = on;
    await page.locator('#profile').selectOption('goose-house');
    await comes(() => page.locator('#week').innerText()).toMatch(/goose-house/iu);
    await expect.poll(() => page.url(), { timeout: patienceMs }).toContain('goose-house');
  });
});
