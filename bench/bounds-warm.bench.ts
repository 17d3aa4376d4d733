// All bounds of a watch in a process that has found them before, as in the planner and in `tune`, against the first time
// in the same process. Aimed at: a warm time of a fifth of the first.
import { type Bounds, boundsOf, questionOf } from '../src/bounds/index.js';
import { parseWatchFile } from '../src/scenarios/index.js';
import { compileWatch, type Program } from '../src/sim/index.js';
import type { BenchReport } from './contract.js';

/** A default watch that does not meet its requirements: the search also looks for remedies. */
const watchText = 'watch: { checkInterval: 3m }\n';
const times = 60;

function ask(): { readonly bounds: () => Bounds; readonly compile: () => Program } {
  const parsed = parseWatchFile(watchText, 'watch.yaml');
  if (!parsed.ok) throw new Error('the watch file of the bench is one');
  const program = compileWatch(parsed.value.watch);
  return {
    bounds: () => boundsOf(questionOf(parsed.value, { table: program.table, ownLogic: false })),
    compile: () => compileWatch(parsed.value.watch),
  };
}

function msOf(work: () => unknown): number {
  const started = performance.now();
  work();
  return performance.now() - started;
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
}

export function run(): Promise<BenchReport> {
  const { bounds, compile } = ask();
  const took = Array.from({ length: times }, () => msOf(bounds));
  const [first = 0, second = 0] = took;
  const unit = 'ms';
  const baseline = 'the first time';
  return Promise.resolve({
    title: 'All bounds of the default watch, in one process',
    baseline,
    rows: [
      { name: baseline, value: first, unit },
      { name: 'the second time', value: second, unit },
      { name: 'warm, the median of the last thirty', value: median(took.slice(-30)), unit },
      {
        name: 'its logic compiled, warm',
        value: median(Array.from({ length: 30 }, () => msOf(compile))),
        unit,
      },
    ],
  });
}
