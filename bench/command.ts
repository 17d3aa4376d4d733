// The built program as a user runs it: a process of its own, timed from start to end.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

export interface Ran {
  readonly ms: number;
  /** The most memory that the process held. */
  readonly megabytes: number;
  readonly stdout: string;
}

export type RunCommand = (...args: readonly string[]) => Ran;

/** Tells the most memory that the process held, as it ends. */
const tellMemory =
  "data:text/javascript,process.on('exit',()=>process.stderr.write(`\\nMB ${process.resourceUsage().maxRSS/1000}\\n`))";

/** Measures commands in a folder of their own, with some files in it. */
export function measured<T>(
  files: Readonly<Record<string, string>>,
  measure: (run: RunCommand) => T,
): T {
  const cli = path.resolve('dist', 'cli.js');
  // Workers are there only in the built program.
  if (!existsSync(cli)) throw new Error('build first: npm run build');
  const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-bench-'));
  try {
    for (const [name, text] of Object.entries(files)) writeFileSync(path.join(folder, name), text);
    return measure((...args) => {
      const started = performance.now();
      const ran = spawnSync(process.execPath, ['--import', tellMemory, cli, ...args], {
        cwd: folder,
        encoding: 'utf8',
        maxBuffer: 1 << 26,
      });
      const ms = performance.now() - started;
      // A watch may be found not to meet its requirements.
      if (ran.status !== 0 && ran.status !== 1) {
        throw new Error(`${args.join(' ')} ended with ${String(ran.status)}: ${ran.stderr}`);
      }
      return { ms, megabytes: Number(/MB ([\d.]+)/u.exec(ran.stderr)?.[1]), stdout: ran.stdout };
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The run that took the median time. */
export function medianOf(runs: readonly Ran[]): Ran {
  const middle = [...runs].sort((a, b) => a.ms - b.ms)[Math.floor(runs.length / 2)];
  if (middle === undefined) throw new Error('nothing was run');
  return middle;
}

/** How the door of the benches is used. */
export const eightADay = `openingsPerHour: { "6-18": 0.6666666 }
duration: { lognormal: { median: 25s, sigma: 0.8 } }
leaveOpen: { share: 2%, duration: { lognormal: { median: 15m, sigma: 0.6 } } }
`;
