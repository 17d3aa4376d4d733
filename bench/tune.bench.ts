// Settings a second of `dozewatch tune` as a user runs it, start to end, with every setting lived through 20 years at 8
// openings a day: on one thread and on two. Aimed at: 2,000 settings in under 20 s on two cores.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { BenchReport } from './contract.js';

const profile = `openingsPerHour: { "6-18": 0.6666666 }
duration: { lognormal: { median: 25s, sigma: 0.8 } }
leaveOpen: { share: 2%, duration: { lognormal: { median: 15m, sigma: 0.6 } } }
`;
const watch = 'supply: { preset: maker-board, capacity: 400mAh }\n';

// So little is asked that no setting can be left out.
const args = [
  ...['tune', '-c', 'watch.yaml', '--profile', 'eight-a-day.yaml', '--sure-from', '2h'],
  ...['--interval', '1m..13m/30s', '--recheck', '20s..3m/20s', '--threshold', '1..6', '--json'],
];

function timed(cli: string, folder: string, jobs: number) {
  const started = performance.now();
  const ran = spawnSync(process.execPath, [cli, ...args, '--jobs', String(jobs)], {
    cwd: folder,
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  if (ran.status !== 0) throw new Error(`tune ended with ${String(ran.status)}: ${ran.stderr}`);
  return { seconds: (performance.now() - started) / 1_000, stdout: ran.stdout };
}

export function run(): Promise<BenchReport> {
  // Workers are there only in the built program.
  const cli = path.resolve('dist', 'cli.js');
  if (!existsSync(cli)) throw new Error('build first: npm run build');
  const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-bench-'));
  try {
    writeFileSync(path.join(folder, 'eight-a-day.yaml'), profile);
    writeFileSync(path.join(folder, 'watch.yaml'), watch);
    const one = timed(cli, folder, 1);
    const two = timed(cli, folder, 2);
    if (one.stdout !== two.stdout) throw new Error('the number of threads changed the answer');
    const searched = Number(/"searched": (\d+)/u.exec(one.stdout)?.[1]);
    const row = (name: string, seconds: number) => ({
      name: `${name}, ${seconds.toFixed(2)} s in all`,
      value: searched / seconds,
      unit: 'settings/s',
    });
    const rows = [row('one thread', one.seconds), row('two threads', two.seconds)] as const;
    return Promise.resolve({
      title: `A search through ${String(searched)} settings, each lived through 20 years`,
      baseline: rows[0].name,
      rows,
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
