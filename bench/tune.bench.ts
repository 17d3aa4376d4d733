// Settings a second of `dozewatch tune` as a user runs it, start to end, with every setting simulated for 20 years at 8
// openings a day: on one thread and on two. Aimed at: 2,000 settings in under 20 s on two cores.
import { eightADay, measured, type Ran } from './command.js';
import type { BenchReport } from './contract.js';

const watch = 'supply: { preset: bare-board, capacity: 1200mAh }\n';

// So little is asked that no setting can be left out.
const args = [
  ...['tune', '-c', 'watch.yaml', '--profile', 'eight-a-day.yaml', '--sure-from', '2h'],
  ...['--interval', '1m..13m/30s', '--recheck', '20s..3m/20s', '--threshold', '1..6', '--json'],
];

export function run(): Promise<BenchReport> {
  return measured({ 'eight-a-day.yaml': eightADay, 'watch.yaml': watch }, (command) => {
    const one = command(...args, '--jobs', '1');
    const two = command(...args, '--jobs', '2');
    if (one.stdout !== two.stdout) throw new Error('the number of threads changed the answer');
    const searched = Number(/"searched": (\d+)/u.exec(one.stdout)?.[1]);
    const row = (name: string, { ms }: Ran) => ({
      name: `${name}, ${(ms / 1_000).toFixed(2)} s in all`,
      value: (searched / ms) * 1_000,
      unit: 'settings/s',
    });
    const rows = [row('one thread', one), row('two threads', two)] as const;
    const title = `A search through ${String(searched)} settings, each simulated for 20 years`;
    return Promise.resolve({ title, baseline: rows[0].name, rows });
  });
}
