// What `dozewatch bounds` costs as a user runs it, each time in a process of its own: the default watch, and a hard one
// with eight checks in memory, drift, an outage and two power losses. Aimed at: under 100 ms beyond start-up for
// the first, under 5 s and 500 MB for the second.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { BenchReport } from './contract.js';

const hard = `watch:
  checkInterval: 2m
  recheckInterval: 20s
  escalationThreshold: { open: 4, outOf: 8 }
  clearThreshold: 3
  cooldownEndsWhenShut: false
device:
  clockError: { min: -2%, max: 2% }
environment: { longestOutage: 1h, powerLosses: 2, powerLossLasting: 1m }
`;

/** Tells the most memory that the process held, as it ends. */
const tellMemory =
  "data:text/javascript,process.on('exit',()=>process.stderr.write(`\\nMB ${process.resourceUsage().maxRSS/1000}\\n`))";

interface Timed {
  readonly ms: number;
  readonly megabytes: number;
}

function timed(cli: string, folder: string, args: readonly string[]): Timed {
  const started = performance.now();
  const ran = spawnSync(process.execPath, ['--import', tellMemory, cli, ...args], {
    cwd: folder,
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  const ms = performance.now() - started;
  // The bounds may show that something does not hold.
  if (ran.status !== 0 && ran.status !== 1) throw new Error(`bounds failed: ${ran.stderr}`);
  return { ms, megabytes: Number(/MB ([\d.]+)/u.exec(ran.stderr)?.[1]) };
}

/** The median run of several. */
function median(times: number, run: () => Timed): Timed {
  const runs = Array.from({ length: times }, run).sort((a, b) => a.ms - b.ms);
  return runs[Math.floor(times / 2)] ?? run();
}

export function run(): Promise<BenchReport> {
  const cli = path.resolve('dist', 'cli.js');
  if (!existsSync(cli)) throw new Error('build first: npm run build');
  const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-bench-'));
  try {
    writeFileSync(path.join(folder, 'hard.yaml'), hard);
    const of = (times: number, ...args: string[]) => median(times, () => timed(cli, folder, args));
    const startUp = of(9, 'bounds', '--help');
    const usual = of(9, 'bounds', '--interval', '3m');
    const worst = of(3, 'bounds', '-c', 'hard.yaml', '--json');
    const row = (name: string, { ms, megabytes }: Timed) => ({
      name: `${name}, ${megabytes.toFixed(0)} MB`,
      value: ms,
      unit: 'ms',
    });
    const rows = [
      row('bounds --help', startUp),
      row('bounds --interval 3m', usual),
      row('the hard watch', worst),
    ] as const;
    return Promise.resolve({
      title: 'Bounds, from start to end',
      baseline: rows[0].name,
      rows,
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
