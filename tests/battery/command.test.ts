// `dozewatch battery` from files to numbers and exit status.
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
    [['battery', '--no-config'], 'supply-missing'],
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
