// Wakes a second of a firmware on the rig, and a week with its report from start to end, compilation included. Aimed at:
// 5,000 wakes a second; under 1.5 s.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import path from 'node:path';
import { compileFirmware, nodeIo, openRig } from '../src/cli/index.js';
import { compileWatch, simulate } from '../src/sim/index.js';
import type { BenchReport } from './contract.js';
import { yearOfDoor, yearTiming, yearWatch } from './year.js';

const firmwareFile = path.join('tests', 'firmware', 'default-watch.c');
const limitSeconds = 120;

function weekSeconds(): number {
  const cli = path.resolve('dist', 'cli.js');
  if (!existsSync(cli)) throw new Error('build first: npm run build');
  const args = [cli, 'rig', firmwareFile, path.join('scenarios', 'demo', 'week.yaml')];
  const started = performance.now();
  const ran = spawnSync(process.execPath, args, { encoding: 'utf8' });
  if (ran.status !== 1) throw new Error(`rig ended with ${String(ran.status)}: ${ran.stderr}`);
  return (performance.now() - started) / 1_000;
}

export async function run(): Promise<BenchReport> {
  const rig = openRig(await compileFirmware(firmwareFile, nodeIo()));
  const program = compileWatch(yearWatch);
  const experiment = { program, timing: yearTiming, world: yearOfDoor('a'), seed: '1' };
  const perSecond = (wakes: boolean): number => {
    const started = performance.now();
    const { trace } = rig.run(experiment, { wakes, limitSeconds });
    return (trace.tally.checks * 1_000) / (performance.now() - started);
  };
  try {
    const checks = simulate(experiment, { record: 'none' }).tally.checks;
    const bare = perSecond(false);
    const traced = perSecond(true);
    const unit = 'wakes/s';
    return {
      title: `A year of checks every three minutes on the rig: ${String(checks)} wakes in ${(checks / bare).toFixed(2)} s`,
      baseline: 'sends and totals',
      rows: [
        { name: 'sends and totals', value: bare, unit },
        { name: 'every wake traced', value: traced, unit },
        { name: 'a week with its report, compilation included', value: weekSeconds(), unit: 's' },
      ],
    };
  } finally {
    rig.close();
  }
}
