// The planner with names, files and links that mean harm, or nothing.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runHere } from '../cli/run-here.js';
import { dropOn, givenBy, opened, patienceMs, type Watched, withBrowser } from './browser.js';

withBrowser();

const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-planner-'));
const file = path.join(folder, 'planner.html');
let on: Watched;
const comes = (what: () => Promise<string>) => expect.poll(what, { timeout: patienceMs });

beforeAll(async () => {
  const ran = await runHere(folder, ['planner', '--output', 'planner.html']);
  expect(ran.status, ran.stderr).toBe(0);
  on = await opened(file);
}, 2 * patienceMs);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('the planner', { timeout: 4 * patienceMs }, () => {
  it('takes hostile names and garbage for what they are, and says so in words', async () => {
    const { page, complaints } = on;
    await page.waitForSelector('.live-frame svg');
    const hostile = `<img src=x onerror=alert(1)></script><svg onload=alert(2)>]]>"'&`;
    const title = () => page.locator('#week').innerText();
    const errors = () => page.locator('.news.error').innerText();
    await dropOn(
      page,
      `${hostile}.csv`,
      'time,state\n2026-05-08T06:00:00Z,open\n2026-05-08T06:20:00Z,shut\n',
    );
    await comes(title).toBe(`${hostile}.csv`);
    const note = JSON.stringify(hostile);
    await dropOn(
      page,
      'a.yaml',
      `name: ${note}\nstart: 2026-05-08T06:00:00Z\nlength: 1d\ndoor: [{ at: +1h, for: 20m, note: ${note} }]\n`,
    );
    await comes(title).toBe(hostile);
    expect(readFileSync(await givenBy(page, 'Report'), 'utf8')).not.toContain('<img');
    expect(await page.locator('img').count()).toBe(0);
    await dropOn(page, 'b.csv', `time,state\n${'2026-05-08T06:00:00Z,purple\n'.repeat(50)}`);
    await comes(errors).toMatch(/b\.csv:2: .*not a door state/u);
    await dropOn(page, 'b.yaml', `length: 1h\ndoor:\n${'  - { at: noon, for: 1m }\n'.repeat(50)}`);
    await comes(errors).toContain('… and ');
    await dropOn(page, 'c.yaml', '\u0000{{{[');
    await comes(errors).toContain('c.yaml:1: the file is not a text file');
    await page.getByRole('button', { name: 'Start over' }).click();
    await dropOn(
      page,
      'd.json',
      '{"watch":{"checkInterval":"10m"},"judge":{"leaveOpenAfter":"3m"}}',
    );
    await comes(() => page.locator('.news.warning').innerText()).toContain('is not reported');
    await page.locator('summary', { hasText: 'Contact' }).click();
    await page.locator('[id="contact.operateGap"]').fill('8mm');
    const missing = page.locator('[id="error-contact.releaseGap"]');
    await comes(() => missing.innerText()).toContain('contact.releaseGap is missing');
    expect(complaints).toEqual([]);
  });

  it('opens as new from a link that is garbage, and puts no long log into one', async () => {
    for (const hash of ['#%', '#{}', `#${encodeURIComponent('{"set":null}')}`]) {
      const fresh = await opened(file, { hash });
      await fresh.page.waitForSelector('.live-frame svg');
      const sureFrom = fresh.page.locator('[data-figure="sure from"]');
      expect(await sureFrom.innerText()).toBe('4 min 1 s');
      expect(fresh.complaints).toEqual([]);
      await fresh.page.close();
    }
    const { page } = await opened(file);
    await page.waitForSelector('.live-frame svg');
    const rows = Array.from({ length: 4_000 }, (_, index) =>
      [new Date(1.7e12 + index * 60_000).toISOString(), index % 2 ? 'shut' : 'open'].join(','),
    );
    await dropOn(page, 'long.csv', `time,state\n${rows.join('\n')}\n`);
    await comes(() => page.locator('#week').innerText()).toBe('long.csv');
    await comes(() => page.evaluate('String(location.hash.length)')).toBe('0');
    expect(await page.locator('.results').innerText()).toContain('too long for a link');
  });
});
