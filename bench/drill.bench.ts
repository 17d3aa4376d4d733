// What `dozewatch drill` costs as a user runs it, each time in a process of its own: the default watch, and one with five
// checks in memory, a hundred states and devices that vary. Aimed at: 2 s for the first, 10 s for the second.
import { measured, medianOf } from './command.js';
import type { BenchReport } from './contract.js';

const remembering = `watch:
  checkInterval: 3m
  escalationThreshold: { open: 3, outOf: 5 }
  clearThreshold: 2
  alertCooldown: 30m
  retry: { interval: 1m, attempts: 5 }
device:
  connectTime: { min: 2s, max: 8s }
  clockError: { min: -2%, max: 2% }
`;

export function run(): Promise<BenchReport> {
  return measured({ 'remembering.yaml': remembering }, (command) => {
    const row = (name: string, ...args: string[]) => {
      const { ms, megabytes } = medianOf(
        Array.from({ length: 3 }, () => command('drill', ...args)),
      );
      return { name: `${name}, ${megabytes.toFixed(0)} MB`, value: ms, unit: 'ms' };
    };
    const rows = [
      row('drill --help', '--help'),
      row('drill of the default watch', '--json'),
      row('drill of one with a hundred states', '-c', 'remembering.yaml', '--json'),
    ] as const;
    const title = 'Drill, from start to end';
    return Promise.resolve({ title, baseline: rows[0].name, rows });
  });
}
