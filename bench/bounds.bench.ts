// What `dozewatch bounds` costs as a user runs it, each time in a process of its own: the default watch, and a hard one
// with eight checks in memory, drift, an outage and two power losses, one with outages that keep apart for many checks, and
// one with a weekly heartbeat.
// Aimed at: under 100 ms beyond start-up for the first, under 5 s and 500 MB for the second, under 1 s for the third, under
// 2 s for the fourth.
import { measured, medianOf, type Ran } from './command.js';
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

const apart = `watch: { checkInterval: 1m, alertCooldown: 12h }
environment: { longestOutage: 1h, outages: 2, outagesApart: 6h }
`;

const weekly = `watch: { heartbeatInterval: 7d }
`;

export function run(): Promise<BenchReport> {
  return measured({ 'hard.yaml': hard, 'apart.yaml': apart, 'weekly.yaml': weekly }, (command) => {
    const row = (name: string, { ms, megabytes }: Ran) => ({
      name: `${name}, ${megabytes.toFixed(0)} MB`,
      value: ms,
      unit: 'ms',
    });
    const of = (times: number, ...args: string[]) =>
      medianOf(Array.from({ length: times }, () => command(...args)));
    const rows = [
      row('bounds --help', of(9, 'bounds', '--help')),
      row('bounds --interval 3m', of(9, 'bounds', '--interval', '3m')),
      row('the hard watch', of(3, 'bounds', '-c', 'hard.yaml', '--json')),
      row('outages that keep apart', of(3, 'bounds', '-c', 'apart.yaml', '--json')),
      row('a weekly heartbeat', of(3, 'bounds', '-c', 'weekly.yaml', '--json')),
    ] as const;
    const title = 'Bounds, from start to end';
    return Promise.resolve({ title, baseline: rows[0].name, rows });
  });
}
