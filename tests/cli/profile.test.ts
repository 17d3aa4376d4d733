// `dozewatch profile`, and the commands that take a log in place of a profile.
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { hourMs, minuteMs, randomStream } from '../../src/base/index.js';
import { codesIn, ownFolder, runHere } from './run-here.js';

const rows = Array.from({ length: 40 }, (_, index) => {
  const day = String(4 + Math.floor(index / 3)).padStart(2, '0');
  const hour = String(8 + (index % 3) * 4).padStart(2, '0');
  const seconds = index % 13 === 0 ? `${String(20 + index)}:00` : `00:${String(10 + index)}`;
  return `2026-05-${day}T${hour}:00:00Z,2026-05-${day}T${hour}:${seconds}Z`;
});
const files = {
  'doors.csv': `start,end\n${rows.join('\n')}\n`,
  'none.csv': 'time,state\n2026-05-04T08:00:00Z,shut\n2026-05-05T08:00:00Z,open\n',
};
const few = ['--years', '5'];

describe('profile', () => {
  it('prints a profile that estimate takes, with what it was fitted to', async () => {
    const folder = ownFolder(files);
    const { status, stdout } = await runHere(folder, ['profile', 'doors.csv']);
    expect(status).toBe(0);
    writeFileSync(path.join(folder, 'fitted.yaml'), stdout);
    const by = ['estimate', ...few, '--json'];
    const direct = await runHere(folder, [...by, '--profile-from', 'doors.csv']);
    const fromFile = await runHere(folder, [...by, '--profile', 'fitted.yaml']);
    // The profile is named in a sentence; only of a log itself it is known what a watch does in it.
    const said = { profile: expect.any(String), log: null };
    expect(JSON.parse(fromFile.stdout)).toEqual({ ...JSON.parse(direct.stdout), ...said });
  });

  it('says the same to programs', async () => {
    const { stdout } = await runHere(ownFolder(files), ['profile', 'doors.csv', '--json']);
    expect(JSON.parse(stdout)).toMatchObject({
      schema: 'dozewatch/profile/1',
      openings: 40,
      unended: 0,
      leaveOpen: { count: 4, worstGap: 0, distribution: { kind: 'drawn' } },
    });
  });

  it('warns where its years have far more openings than a log whose days are alike, in every command, and --as-logged has as many', async () => {
    const jitter = randomStream('1', 'a regular log');
    const regular = Array.from({ length: 14 }, (_, day) => {
      const count = day % 7 >= 5 ? 20 : 60;
      return Array.from({ length: count }, (__, index) => {
        const fromMs = Date.UTC(2026, 4, 4 + day, 6) + (index * 12 * hourMs) / count;
        const openedMs = Math.round(fromMs + jitter.unit() * 4 * minuteMs);
        const shutMs = openedMs + 8_000 + Math.round(jitter.unit() * 30_000);
        return `${new Date(openedMs).toISOString()},${new Date(shutMs).toISOString()}`;
      });
    }).flat();
    const folder = ownFolder({ 'regular.csv': `start,end\n${regular.join('\n')}\n` });
    const covers = ['--from', '2026-05-04', '--until', '2026-05-18'];
    const { stdout, stderr } = await runHere(folder, [
      'profile',
      'regular.csv',
      ...covers,
      '--json',
    ]);
    const { openingsAgreement: found, agreement } = JSON.parse(stdout);
    expect(found.agrees).toBe(false);
    expect(found.logged).toBeCloseTo((365 / 7) * 340, 3);
    expect(found.drawn).toBeGreaterThan(1.1 * found.high);
    expect(agreement).toHaveLength(7);
    expect(codesIn(stderr)).toContain('profile-does-not-fit');
    const years = ['estimate', '--years', '2', '--profile-from', 'regular.csv', ...covers];
    const fitted = await runHere(folder, years);
    expect(codesIn(fitted.stderr)).toContain('profile-does-not-fit');
    const asLogged = await runHere(folder, [...years, '--as-logged', '--json']);
    expect(codesIn(asLogged.stderr)).not.toContain('profile-does-not-fit');
    const { openingsPerYear } = JSON.parse(asLogged.stdout);
    expect(Math.abs(openingsPerYear / found.logged - 1)).toBeLessThan(0.03);
  });

  it('has as many openings per year as the years that are simulated from it, up to what chance does', async () => {
    // Brief ones, so that nobody finds the door open.
    const brief = rows.map((row) => row.replace(/:\d\d:00Z$/u, ':00:20Z'));
    const folder = ownFolder({ 'brief.csv': `start,end\n${brief.join('\n')}\n` });
    for (const fit of [[], ['--as-logged']]) {
      const { stdout } = await runHere(folder, ['profile', 'brief.csv', '--json', ...fit]);
      const { mean, ofLog } = JSON.parse(stdout).openingsPerYear;
      expect(ofLog).toBeGreaterThan((39 * 365) / 14);
      const years = ['estimate', '--years', '50', '--profile-from', 'brief.csv', '--json', ...fit];
      const { openingsPerYear } = JSON.parse((await runHere(folder, years)).stdout);
      expect(Math.abs(openingsPerYear / mean - 1)).toBeLessThan(0.02);
    }
  });

  it('stands in, with a warning, where nothing tells how the door is used', async () => {
    const few = ['estimate', '--years', '2', '--json'];
    const assumed = await runHere(ownFolder(), few);
    expect([assumed.status, codesIn(assumed.stderr)]).toEqual([0, ['profile-assumed']]);
    const named = await runHere(ownFolder(), [...few, '--profile', 'flower-store']);
    expect([named.stdout, named.stderr]).toEqual([
      assumed.stdout,
      'watch file: none found, so the defaults apply\n',
    ]);
  });

  it.each([
    [['profile', 'none.csv'], 'profile-empty'],
    [['estimate', '--profile-from', 'none.csv'], 'profile-empty'],
    [['estimate', '--profile-from', 'doors.csv', '--profile', 'seed-bank'], 'profile-twice'],
  ])('refuses %j with one error: %s', async (args, code) => {
    const { status, stdout, stderr } = await runHere(ownFolder(files), args);
    expect([status, stdout, codesIn(stderr)]).toEqual([2, '', [code]]);
  });
});
