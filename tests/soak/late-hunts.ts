// How many seeds of the default hunt find each mistake that shows late or seldom: `npm run soak:late -- [seeds] [mistake …]`. The aim is 95 of 100
// for mistakes that show within 60 days. A hunt is run until its first breach; nothing is made smaller.
import path from 'node:path';
import fc from 'fast-check';
import { planOf } from '../../src/cli/hunt/readings.js';
import { loadWatch } from '../../src/cli/inputs/load-watch.js';
import { compileFirmware } from '../../src/cli/rig/compile-firmware.js';
import { rigHuntOptions } from '../../src/cli/rig/hunt.js';
import { openRig, type Rig } from '../../src/cli/rig/process.js';
import {
  breachOf,
  deviceProperties,
  type HuntQuestion,
  judgedProperties,
  type Trial,
  trials,
  unlessTheMachine,
} from '../../src/hunt/index.js';
import { ioOf } from '../cli/run-here.js';

const folder = path.resolve('tests', 'firmware');
const io = ioOf(folder, { environment: { PATH: process.env['PATH'] ?? '' } });
const [seedsText = '40', ...named] = process.argv.slice(2);
const seeds = Number(seedsText);
/** A mistake: its file, its number and, for combined.c, after how many days it shows. */
/** Number 12 of later.c is no mistake in this watch: its cooldown is over long before. */
const later = Array.from({ length: 23 }, (_, index) => index + 1)
  .filter((number) => number !== 12)
  .map((number) => `later.c:${String(number)}`);
const combined = Array.from({ length: 54 }, (_, index) => index + 1)
  .filter((number) => number !== 50 && number !== 53)
  .map((number) => `combined.c:${String(number)}`);
/** Some numbers of late.c are left out: they are no mistakes here, or show only after 60 days. */
const late = [
  ...[1, 2, 3, 6, 7, 9, 10, 11, 13, 14, 15, 16, 17, 19, 20, 21, 22, 24, 25],
  ...[30, 31, 32, 33, 35, 36, 37, 38, 39],
].map((number) => `late.c:${String(number)}`);
const further = Array.from({ length: 20 }, (_, index) => `further.c:${String(index + 1)}`);
/** Those of combined.c that can be made to show late. */
const lateNumbers = [
  1, 2, 3, 9, 10, 11, 12, 13, 14, 16, 17, 25, 26, 27, 29, 33, 34, 36, 37, 38, 46, 47,
];
const all = [
  ...late,
  ...later,
  ...further,
  ...combined,
  ...lateNumbers.map((number) => `combined.c:${String(number)}:25`),
];
const wanted = named.length === 0 ? all : named;
/** As a hunt does: a few timelines with each seed, and the next seed for the next few. */
const atOnce = 20;
const runs = 1_000;

const { watchFile, program } = await loadWatch('timer.yaml', io, [], undefined);
const { watch, timing, judge, contact } = watchFile;
const { adversity, lengthMs } = planOf(rigHuntOptions({}), watchFile);
const asked = [...judgedProperties(judge), ...deviceProperties(program, watch)];
const properties = unlessTheMachine(asked, () => undefined).map(({ property }) => property);
const question: HuntQuestion = {
  ...{ watch, program, timing, judge, contact, adversity, lengthMs, properties },
};

interface Tried {
  readonly name: string;
  readonly rig: Rig;
  readonly foundAt: (number | null)[];
}

// Each firmware is a process that ends with this one.
process.setMaxListeners(2 * all.length);
const tried: Tried[] = [];
for (const name of wanted) {
  const [file = '', variant = '0', after = '0'] = name.split(':');
  const compiled = await compileFirmware(path.join('many', file), io, {
    define: [`MISTAKE=${variant}`, `AFTER=${after}`],
  });
  tried.push({ name, rig: openRig(compiled), foundAt: [] });
}

function breaks(rig: Rig, trial: Trial): boolean {
  const run: HuntQuestion['run'] = (experiment) => {
    const { trace, failure } = rig.run(experiment, { wakes: false, limitSeconds: 60 });
    return { trace, stopped: failure?.kind ?? null };
  };
  return breachOf({ ...question, run }, trial) !== null;
}

for (let seed = 0; seed < seeds; seed += 1) {
  const left = new Set(tried);
  for (let at = 0; at < runs && left.size > 0; at += atOnce) {
    const first = (seed + 1) * 1_000_003 + at / atOnce;
    const drawn = fc.sample(trials(question), { seed: first, numRuns: atOnce });
    for (const one of left) {
      const found = drawn.findIndex((trial) => breaks(one.rig, trial));
      if (found < 0) continue;
      one.foundAt.push(at + found);
      left.delete(one);
    }
  }
  for (const one of left) one.foundAt.push(null);
  const missed = [...left].map(({ name }) => name).join(' ');
  process.stdout.write(
    `seed ${String(seed)}: ${missed === '' ? 'all found' : `not found: ${missed}`}\n`,
  );
}
for (const { name, foundAt, rig } of tried) {
  const found = foundAt.filter((at) => at !== null).toSorted((a, b) => a - b);
  const median = found[Math.floor(found.length / 2)];
  process.stdout.write(
    `${name.padEnd(14)} ${String(found.length)} of ${String(foundAt.length)}, median timeline ${String(median ?? '-')}\n`,
  );
  rig.close();
}
