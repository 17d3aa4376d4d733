// Device-years a second of `dozewatch estimate` as a user runs it, start to end: 10,000 years at 8 openings a day on
// one thread and on two, in turn. Aimed at: under 5 s on two cores, and 1.7 times as fast as on one.
import { eightADay, measured, medianOf, type Ran } from './command.js';
import type { BenchReport } from './contract.js';

const years = 10_000;
const times = 3;

export function run(): Promise<BenchReport> {
  return measured({ 'eight-a-day.yaml': eightADay }, (command) => {
    const args = ['estimate', '--profile', 'eight-a-day.yaml', '--years', String(years), '--json'];
    const runs: Record<'1' | '2', Ran[]> = { 1: [], 2: [] };
    for (let round = 0; round < times; round += 1) {
      for (const jobs of ['1', '2'] as const) runs[jobs].push(command(...args, '--jobs', jobs));
    }
    const one = medianOf(runs[1]);
    const two = medianOf(runs[2]);
    if (one.stdout !== two.stdout) throw new Error('the number of threads changed the estimate');
    const row = (name: string, { ms, megabytes }: Ran) => ({
      name: `${name}, ${(ms / 1_000).toFixed(2)} s in all, ${megabytes.toFixed(0)} MB`,
      value: (years / ms) * 1_000,
      unit: 'device-years/s',
    });
    const rows = [row('one thread', one), row('two threads', two)] as const;
    const title = `An estimate of ${String(years)} device-years at 8 openings a day, from start to end`;
    return Promise.resolve({ title, baseline: rows[0].name, rows });
  });
}
