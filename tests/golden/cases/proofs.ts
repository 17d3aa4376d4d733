// What is proved or looked for: bounds, verify, hunt, drill, emit.
import { type GoldenCase, golden } from '../case.js';

const both = (run: string): readonly string[] => [run, `${run} --json`];
const bounds = (name: string, run: string, status = 0): GoldenCase =>
  golden(`bounds/${name}`, both(`bounds ${run}`), { status });

export const proofCases: readonly GoldenCase[] = [
  golden('bounds/defaults', ['bounds', 'bounds --json']),
  bounds('held', '-c plain.yaml'),
  bounds('held-from-any-state', '-c sound.yaml --strict'),
  bounds('not-held', '-c wish.yaml', 1),
  bounds('any-state', '-c plain.yaml --strict', 1),
  bounds('options', '--interval 2m --recheck 20s --threshold 2/3 --clear 2 --cooldown 5m', 0),
  bounds('requirements', '--leave-open-after 5m --report-within 4m --quiet-up-to 3m', 1),
  bounds('ranges', '-c ranges.yaml'),
  bounds('temperature-curve', '-c curve.yaml'),
  bounds('outage', '-c quick.yaml --outage 1h --leave-open-after 5m'),
  bounds('outages-apart', '-c quick.yaml --outage 20m --outages 2 --outages-apart 6h'),
  bounds('power-losses', '-c quick.yaml --power-losses 1 --power-loss-lasting 10s --resets 1'),
  bounds('chatter', '-c quick.yaml --chatter 30s', 1),
  bounds('unsent-dropped', '-c drop.yaml', 1),
  bounds('heartbeat', '-c heartbeat.yaml'),
  bounds('hold-until-reset', '-c hold.yaml'),
  bounds('wake-on-opening', '-c opening.yaml'),
  bounds('wake-on-any-change', '-c any-change.yaml'),
  bounds('contact-gaps', '-c gaps.yaml'),
  bounds('door-rests-unseen', '-c rests.yaml', 1),
  bounds('door-opens-wide', '-c wide.yaml'),
  bounds('resets-that-clear', '-c clears.yaml --resets 1'),
  bounds('cautioned', '-c cautioned.yaml', 1),
  bounds('contact-that-bounces', '-c bounces.yaml', 1),
  golden(
    'bounds/compared',
    [
      ...both('bounds sound.yaml wish.yaml opening.yaml'),
      'bounds quick.yaml quick.yaml # status 0',
    ],
    { status: 1 },
  ),
  golden(
    'bounds/priced-for-a-profile',
    ['bounds --interval 6m --leave-open-after 5m --profile flower-store'],
    { status: 1 },
  ),
  golden('bounds/witnesses', ['bounds -c wish.yaml --witness worst'], { status: 1 }),
  golden('bounds/charted', [
    'bounds -c plain.yaml --chart bounds.svg',
    'bounds -c opening.yaml --chart bounds.png --dark --title "The hatch" --width 600',
  ]),
  golden('bounds/outage-reset-and-power-loss', ['bounds -c faults.yaml'], {
    status: 1,
    files: {
      'faults.yaml':
        'watch: { checkInterval: 5m, recheckInterval: 2m, escalationThreshold: 2, alertCooldown: 20m, wakeOn: any-change }\ndevice: { bootTime: 400ms, connectTime: 4s, reset: { button: clears } }\njudge: { leaveOpenAfter: 10m, reportWithin: 15m, quietUpTo: 90s }\nenvironment: { longestOutage: 10m, resets: 1, powerLosses: 1, powerLossLasting: 1m }\n',
    },
  }),
  golden('bounds/narrow-terminal', ['bounds -c wish.yaml'], { terminalColumns: 60, status: 1 }),
  golden('verify/good', [
    'bounds -c quick.yaml --certificate proof.json # status 0',
    'verify proof.json -c quick.yaml',
    'verify proof.json -c quick.yaml --json',
    'verify proof.json -c plain.yaml # status 2',
    'verify proof.json -c quick.yaml --clock-error -1%..1% # status 2',
    'verify proof.json -c quick.yaml --resets 1 # status 2',
    'verify proof.json -c quick.yaml --outage 6m # status 2',
  ]),
  golden('verify/tampered', both('verify tampered.json -c quick.yaml'), { status: 1 }),
  golden('hunt/nothing-found', both('hunt -c sure.yaml --runs 100 --length 1d')),
  golden('hunt/missed', both('hunt -c wish.yaml --runs 300 --seed 2 -o found.yaml'), { status: 1 }),
  golden('hunt/false-alarm', ['hunt -c plain.yaml --property no-false-alarm --runs 500'], {
    status: 1,
  }),
  golden('hunt/with-faults', [
    'hunt -c sure.yaml --with outages,power,resets,chatter --runs 200 --length 1d # status 1',
  ]),
  golden('hunt/retained-memory', [
    'hunt -c sure.yaml --property retained-memory-enough,one-alert-per-cooldown --runs 100 --length 1d # status 1',
  ]),
  golden('hunt/mistake-without-difference', both('hunt -c quick.yaml --mistake sleep-overflow')),
  golden('hunt/what-may-go-wrong', [
    'hunt -c sure.yaml --runs 5 --property delivered-in-the-end --calm',
    'hunt -c ranges.yaml --runs 100 --property delivered-in-the-end',
    'hunt -c drop.yaml --runs 100 --property delivered-in-the-end -o found.yaml # status 1',
    'hunt -c sure.yaml --property retained-memory-enough --with power --runs 100 --length 1d # status 1',
  ]),
  golden(
    'hunt/mistake',
    both('hunt -c quick.yaml --mistake cooldown-from-attempt --seed 5 --runs 400'),
    {
      status: 1,
    },
  ),
  golden('place/sheet', ['place', 'place -o sheet.html']),
  golden('place/sleep-current', [
    'place --sleep-current',
    ...both('place currents.csv --sleep-current'),
    'place volts.csv --sleep-current',
  ]),
  golden('place/found', both('place trials.csv --sticks-at 10mm'), { status: 1 }),
  golden('place/contradicted', ['place odd-trials.csv'], { status: 1 }),
  golden('place/wrong-way-round', ['place both.csv', 'place one.csv'], {
    status: 1,
    files: {
      'both.csv':
        'direction,gap,reads\nclosing,4,open\nclosing,14,shut\nopening,4,open\nopening,14,shut\n',
      'one.csv':
        'direction,gap,reads\nclosing,4,open\nclosing,14,shut\nopening,4,shut\nopening,14,open\n',
    },
  }),
  golden('drill/short', both('drill -c plainest.yaml --short')),
  golden('drill/judged', [
    'drill -c plainest.yaml --short --record passed.csv',
    'drill -c plainest.yaml --short --record failed.csv # status 1',
    'drill -c plainest.yaml --short --record one-mistake.csv # status 1',
    'drill -c plainest.yaml --short --record failed.csv --json # status 1',
  ]),
  golden('drill/quick', ['drill -c slow.yaml --short --quick quick-slow.yaml']),
  golden('drill/forms', [
    'drill -c plainest.yaml --short --format markdown',
    'drill -c plainest.yaml --short -o drill.html --tolerance 1s',
  ]),
  golden('emit/c', [
    'emit c -c quick.yaml -o out --name hatch',
    'emit c -c quick.yaml -o out --name hatch --json',
  ]),
  golden('emit/scxml', ['emit scxml -c quick.yaml', 'emit scxml -c quick.yaml -o w.scxml --json']),
  golden('emit/diagram', [
    'emit diagram -c opening.yaml --format mermaid',
    'emit diagram -c opening.yaml -o states.svg',
    'emit diagram -c opening.yaml -o states.png --dark --width 800 --json',
  ]),
];
