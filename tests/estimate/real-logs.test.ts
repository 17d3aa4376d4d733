// Years drawn from profiles of real door logs, compared with the logs themselves over every phase of the checks. The logs are those of
// "house A" of van Kasteren, Noulas, Englebienne and Kröse, Accurate activity recognition in a home setting, UbiComp 2008; the
// project does not ship them, and without them this test is skipped.
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { agreementAt, agreementNames } from '../../src/estimate/index.js';
import { fitProfile, openDoorLog, yearWorlds } from '../../src/scenarios/index.js';
import { compileWatch } from '../../src/sim/index.js';
import { deviceTiming } from '../../src/world/index.js';
import { watchFileOf } from '../support/watch-question.js';

const folder = path.resolve('..', 'shared', 'door-logs');
const logs = ['house-a-freezer.csv', 'house-a-fridge.csv', 'house-a-front-door.ndjson'];
const isThere = logs.every((name) => existsSync(path.join(folder, name)));
const title = isThere ? '' : ' (skipped: the logs are not in ../shared/door-logs)';

function doorOf(name: string) {
  const reader = openDoorLog({ file: name });
  reader.push(readFileSync(path.join(folder, name), 'utf8'));
  const read = reader.finish();
  if (!read.ok) throw new Error(JSON.stringify(read.errors));
  const { firstMs, lastMs, openings } = read.value;
  const start = { epochMs: firstMs, timeZone: 'UTC' };
  const shifted = {
    fromMs: openings.fromMs.map((ms) => ms - firstMs),
    toMs: openings.toMs.map((ms) => ms - firstMs),
  };
  return { start, lengthMs: lastMs - firstMs, openings: shifted };
}

describe.skipIf(!isThere)(`years drawn from profiles of real doors${title}`, () => {
  it.each(logs)('%s: false alarms and misses are those of the log', (name) => {
    const door = doorOf(name);
    const { timing, watch, judge } = watchFileOf('judge: { leaveOpenAfter: 3m }\n');
    const fit = fitProfile(door, judge.leaveOpenAfterMs);
    if (fit === null) throw new Error('the log has openings');
    const { profile } = fit;
    const worlds = yearWorlds({ profile, contact: null, outages: null, powerCuts: null });
    const compared = {
      program: compileWatch(watch),
      timing: deviceTiming({}, timing),
      judge,
      openings: door.openings,
      lengthMs: door.lengthMs,
      worldOf: (year: number) => worlds('agreement', year),
    };
    for (const intervalMs of [15_000, 30_000, 60_000, 300_000]) {
      const row = agreementAt(compared, intervalMs, timing.bootTime.least);
      for (const of of agreementNames) {
        expect(
          row[of].agrees,
          `${of} every ${String(intervalMs)} ms: ${JSON.stringify(row[of])}`,
        ).toBe(true);
      }
    }
  });
});
