// Doors of a lived-in home, recorded by reed switches for 25 days: "house A" of T. L. M. van Kasteren, A. Noulas,
// G. Englebienne, B. Kröse, Accurate activity recognition in a home setting, UbiComp 2008 (read).
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { defaultWatchFile, openDoorLog, timelineOfLog } from '../../src/scenarios/index.js';
import { simulate } from '../../src/sim/index.js';
import { judge } from '../../src/verdict/index.js';
import { expandWakes } from '../support/expand.js';
import { plainWatch, programOf } from '../support/experiments.js';
import { interpret } from '../support/oracle.js';
import { expectSame } from '../support/same.js';

const folder = process.env['DOOR_LOGS'] ?? path.resolve('..', 'shared', 'door-logs');
const haveLogs = existsSync(folder);
if (!haveLogs) console.log(`no door logs in ${folder}: their replay is left out`);

const logs = [
  { file: 'house-a-freezer.csv', openings: 36 },
  { file: 'house-a-fridge.csv', openings: 140 },
  { file: 'house-a-front-door.ndjson', openings: 90 },
];

describe('the doors of a lived-in home', () => {
  it.skipIf(!haveLogs).each(logs)('$file replays with $openings openings', ({ file, openings }) => {
    const reader = openDoorLog({ file });
    reader.push(readFileSync(path.join(folder, file), 'utf8'));
    const log = reader.finish();
    if (!log.ok) throw new Error(JSON.stringify(log.errors));
    const watchFile = defaultWatchFile();
    const timeline = timelineOfLog(log.value, watchFile, { name: file, file });
    if (!timeline.ok) throw new Error(JSON.stringify(timeline.errors));
    const { world, timing, seed } = timeline.value;

    const watch = { ...plainWatch, checkIntervalMs: deviceMs(120_000) };
    for (const program of [programOf(watchFile.watch), programOf(watch)]) {
      const experiment = { program, timing, world, seed };
      const trace = simulate(experiment);
      const { summary } = judge(world.openings, trace, watchFile.judge);
      expect(summary.openings).toBe(openings);
      const wanted = interpret(experiment);
      expectSame(trace.alerts, wanted.alerts);
      expectSame(expandWakes(trace), wanted.wakes);
      expect(summary.checks).toBe(wanted.tally.checks);
    }
  });
});
