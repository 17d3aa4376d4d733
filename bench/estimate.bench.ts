// Device-years a second of `dozewatch estimate` as a user runs it, start to end: 10,000 years at 8 openings a day on
// one thread and on two. Aimed at: under 5 s on two cores, and 1.7 times as fast as on one.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { BenchReport } from './contract.js';

const years = 10_000;

const profile = `openingsPerHour: { "6-18": 0.6666666 }
duration: { lognormal: { median: 25s, sigma: 0.8 } }
leaveOpen: { share: 2%, duration: { lognormal: { median: 15m, sigma: 0.6 } } }
`;

interface Timed {
  readonly seconds: number;
  readonly stdout: string;
}

function timed(cli: string, folder: string, jobs: number): Timed {
  const args = ['estimate', '--profile', 'eight-a-day.yaml', '--years', String(years), '--json'];
  const started = performance.now();
  const ran = spawnSync(process.execPath, [cli, ...args, '--jobs', String(jobs)], {
    cwd: folder,
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  if (ran.status !== 0) throw new Error(`estimate ended with ${String(ran.status)}: ${ran.stderr}`);
  return { seconds: (performance.now() - started) / 1_000, stdout: ran.stdout };
}

export function run(): Promise<BenchReport> {
  // Workers are there only in the built program.
  const cli = path.resolve('dist', 'cli.js');
  if (!existsSync(cli)) throw new Error('build first: npm run build');
  const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-bench-'));
  try {
    writeFileSync(path.join(folder, 'eight-a-day.yaml'), profile);
    timed(cli, folder, 2);
    const one = timed(cli, folder, 1);
    const two = timed(cli, folder, 2);
    if (one.stdout !== two.stdout) throw new Error('the number of threads changed the estimate');
    const row = (name: string, { seconds }: Timed) => ({
      name: `${name}, ${seconds.toFixed(2)} s in all`,
      value: years / seconds,
      unit: 'device-years/s',
    });
    const rows = [row('one thread', one), row('two threads', two)] as const;
    return Promise.resolve({
      title: `An estimate of ${String(years)} device-years at 8 openings a day, from start to end`,
      baseline: rows[0].name,
      rows,
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
