// What `dozewatch bounds` costs as a user runs it, each time in a process of its own: the default watch, and a hard one
// with eight checks in memory, drift, an outage and two power losses, one with outages that keep apart for many checks, one
// with a weekly heartbeat, and one whose low-battery messages spread the time of the next heartbeat over many ranges.
// Aimed at: under 100 ms beyond start-up for the first, under 5 s and 500 MB for the second, under 1 s for the third, under
// 2 s for the fourth, under 6 s for the fifth.
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

const spread = `watch:
  heartbeatInterval: 12h
  lowBattery: { at: 20%, repeat: 1d }
device: { connectTime: 2s..8s }
judge: { leaveOpenAfter: 5m, reportWithin: 10m }
`;

export function run(): Promise<BenchReport> {
  const files = {
    'hard.yaml': hard,
    'apart.yaml': apart,
    'weekly.yaml': weekly,
    'spread.yaml': spread,
  };
  return measured(files, (command) => {
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
      row('low-battery messages', of(1, 'bounds', '-c', 'spread.yaml', '--json')),
    ] as const;
    const title = 'Bounds, from start to end';
    return Promise.resolve({ title, baseline: rows[0].name, rows });
  });
}
