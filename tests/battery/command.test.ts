// `dozewatch battery` from files to exit status, and the life that `replay` tells.
import { describe, expect, it } from 'vitest';
import { codesIn, ownFolder, runHere } from '../cli/run-here.js';

const watch = `watch: { afterAlert: hold-until-reset, alertCooldown: 0s }
supply: { preset: bare-board, capacity: 300mAh, contactBias: { resistance: 45kOhm } }
`;
const day = `name: Goose-house hatch in the evening
start: 2026-05-08T16:00:00+02:00
length: 12h
door: [{ at: +1h, for: 30m }]
`;
const files = { 'watch.yaml': watch, 'evening.yaml': day, 'bare.yaml': 'watch:\n' };
const withWatch = ['battery', '-c', 'watch.yaml'];

describe('the report of battery', () => {
  it('tells the life first, and what a contact, an alert and a dead watch mean', async () => {
    const { status, stdout, stderr } = await runHere(ownFolder(files), withWatch);
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toMatch(
      /^watch\.yaml: a charge lasts \d+ d \(\d\.\d weeks\) at a door that nobody opens\.\n/u,
    );
    expect(stdout.replaceAll(/\s+/gu, ' ')).toContain(
      'this watch stays awake and does nothing until reset, at 31.1 mA: flat in 8 h 40 min',
    );
    for (const words of [
      /45 kΩ at 3\.3 V conducts 73\.3 µA/u,
      /low battery +warn when \d/u,
      /nothing ever tells its owner/u,
      /^ +2 min +\S.* as set$/mu,
      /common practice/u,
      /lithium cells/u,
    ]) {
      expect(stdout).toMatch(words);
    }
  });

  it('follows each timeline, and says when a full charge would not last to its end', async () => {
    const { stdout } = await runHere(ownFolder(files), [...withWatch, 'evening.yaml']);
    expect(stdout).toMatch(/Goose-house hatch in the evening \(12 h\): a charge lasts/u);
    expect(stdout).toContain('A full charge would not last to the end of it.');
    expect(stdout).toMatch(/^ +awake until reset +10 h \d+ min/mu);
  });

  it('says in replay how long a charge lasts, and that it would not last so long', async () => {
    const { stdout } = await runHere(ownFolder(files), [
      'replay',
      'evening.yaml',
      '-c',
      'watch.yaml',
    ]);
    expect(stdout.replaceAll(/\s+/gu, ' ')).toMatch(
      /battery life \d+ h.* on a charge at this timeline's average use, .*does not last to the end/u,
    );
  });

  it('explains a measured life', async () => {
    const args = [...withWatch, '--calibrate', '300mAh lasted 25d'];
    const { status, stdout } = await runHere(ownFolder(files), args);
    expect(status).toBe(0);
    expect(stdout).toMatch(/300 mAh that lasted 25 d .* explained by a sleep current of/u);
  });
});

describe('battery --json', () => {
  it('is one object of whole numbers', async () => {
    const args = [...withWatch, 'evening.yaml', '--json', '--calibrate', '300mAh lasted 8h'];
    const { stdout } = await runHere(ownFolder(files), args);
    const answer = JSON.parse(stdout);
    expect(answer).toMatchObject({
      schema: 'dozewatch/battery/1',
      supply: { capacityNah: 300_000_000, preset: { name: 'bare-board' } },
      quiet: { meanNa: expect.any(Number), heldMs: 0 },
      timelines: [{ file: 'evening.yaml', lengthMs: 43_200_000, flatBeforeEnd: true }],
      contact: { currentNa: 73_333 },
      hold: { currentNa: 31_120_000, lastsMs: 31_233_933 },
      heartbeat: { set: { intervalMs: null, silentForAtMostMs: null } },
      calibration: { measured: { capacityNah: 300_000_000, lifeMs: 28_800_000 } },
    });
    const numbers = stdout.match(/-?\d[\d.e+-]*(?=,?\n)/gu) ?? [];
    expect(numbers.length).toBeGreaterThan(50);
    expect(numbers.filter((text) => !Number.isSafeInteger(Number(text)))).toEqual([]);
  });
});

describe('bad input to battery is one clear error, and status 2', () => {
  it.each([
    [['battery'], 'supply-missing'],
    [['battery', '-c', 'bare.yaml'], 'supply-missing'],
    [['battery', '-c', 'gone.yaml'], 'file-missing'],
    [[...withWatch, '--calibrate', '300mAh'], 'calibration-unreadable'],
    [[...withWatch, '--calibrate', '300 lasted 30d'], 'charge-without-unit'],
    [[...withWatch, '--calibrate', '300mAh lasted 30'], 'duration-without-unit'],
    [[...withWatch, '--calibrate', '0mAh lasted 30d'], 'out-of-range'],
    [[...withWatch, '--calibrate', '300mAh lasted 0s'], 'out-of-range'],
    [[...withWatch, '--calibrate', '300mAh lasted 2000d'], 'calibration-unexplained'],
    [
      [...withWatch, 'evening.yaml', 'evening.yaml', '--calibrate', '1Ah lasted 9d'],
      'one-timeline-only',
    ],
  ])('%j', async (args, code) => {
    const { status, stdout, stderr } = await runHere(ownFolder(files), args);
    expect([status, stdout, codesIn(stderr)]).toEqual([2, '', [code]]);
  });
});
