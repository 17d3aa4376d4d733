// `dozewatch merge` at work: the parts of one estimate, each there once, become the whole.
import { listText } from '../../base/index.js';
import { emptyTally, estimateOf, join, withEvidence } from '../../estimate/index.js';
import type { Style } from '../command.js';
import { type EstimatePart, readPart } from '../estimate/part.js';
import { confidenceOf, yearsOf } from '../estimate/readings.js';
import { checkEstimateChart, printEstimate } from '../estimate/run.js';
import type { ExitStatus, Io } from '../host/io.js';
import { readText } from '../host/read-text.js';
import { problem } from '../problem.js';
import type { MergeOptions } from './options.js';

interface NamedPart extends EstimatePart {
  readonly file: string;
}

/** @throws InputProblem when a file is no part, is of another estimate, or is one too many or too few. */
export async function merge(
  files: readonly string[],
  options: MergeOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const confidence = confidenceOf(options.confidence);
  await checkEstimateChart(options.chart, files, on.io);
  const parts: NamedPart[] = [];
  for (const file of files) {
    const text = await readText(file, on.io);
    parts.push({ file, ...readPart(text, file) });
  }
  const sorted = parts.sort((a, b) => a.from - b.from);
  const head = checkWhole(sorted);
  const tally = emptyTally();
  for (const part of sorted) join(tally, part.tally);
  const estimate = withEvidence(
    estimateOf(tally, confidence, resamplesOf(sorted, head)),
    head.fitted,
  );
  const { yearsByCount } = tally;
  const view = { head, log: null, estimate, yearsByCount, stoppedBy: 'years' as const };
  await printEstimate(view, options, on);
  return 0;
}

function checkWhole(parts: readonly NamedPart[]): EstimatePart['head'] {
  const [first] = parts;
  if (first === undefined) {
    throw problem('parts-missing', 'merge', { message: 'no parts are given' });
  }
  let from = 0;
  for (const part of parts) {
    checkAlike(first, part);
    if (part.from < from) {
      throw problem('part-twice', part.file, {
        message: 'these years are also in another part',
        found: yearsText(part.from, part.to),
        hint: 'give each part once, and only parts of one division (such as 1/8 to 8/8)',
      });
    }
    if (part.from > from) throw missing([from, part.from], parts);
    from = part.to;
  }
  const { yearsAsked } = first.head;
  if (from < yearsAsked) throw missing([from, yearsAsked], parts);
  return first.head;
}

/** Of each resample the years, whichever part has them. */
function resamplesOf(parts: readonly NamedPart[], { resamples }: EstimatePart['head']) {
  const inOrder = parts.toSorted((a, b) => a.resamplesFrom - b.resamplesFrom);
  const tallies = inOrder.flatMap((part) => part.resamples);
  const last = parts.at(-1)?.file ?? 'merge';
  if (tallies.length === (resamples?.count ?? 0)) return tallies;
  throw problem('part-missing', last, {
    message: `the years of ${String(resamples?.count ?? 0)} resamples of the log are expected, and the parts have ${String(tallies.length)}`,
    hint: 'give all parts of one division (such as 1/8 to 8/8)',
  });
}

function missing([from, to]: readonly [from: number, to: number], parts: readonly NamedPart[]) {
  const shards = shardsOf(parts)?.filter(([first, end]) => first < to && end > from);
  const [one, ...others] = shards ?? [];
  const which =
    one === undefined
      ? `a part is missing: ${yearsText(from, to)}`
      : others.length === 0
        ? `part ${one[2]} is missing (${yearsText(from, to)})`
        : `parts ${listText([one, ...others].map(([, , name]) => name))} are missing (${yearsText(from, to)})`;
  const option =
    one === undefined
      ? '--shard'
      : listText([one, ...others].map(([, , name]) => `--shard ${name}`));
  return problem('part-missing', 'merge', {
    message: which,
    hint: `give all parts, or run estimate with ${option} and the options of the others`,
  });
}

/** The years of each shard of the least division that these parts can be of, with its name; null: of none. */
function shardsOf(
  parts: readonly NamedPart[],
): readonly (readonly [from: number, to: number, name: string])[] | null {
  const years = parts[0]?.head.yearsAsked ?? 0;
  for (let of = 1; of <= Math.min(years, mostGuessed); of += 1) {
    const shards = Array.from({ length: of }, (_, index) => {
      const [from, to] = yearsOf(years, { index: index + 1, of });
      return [from, to, `${String(index + 1)}/${String(of)}`] as const;
    });
    const isOf = (part: NamedPart): boolean =>
      shards.some(([from, to]) => from === part.from && to === part.to);
    if (parts.every(isOf)) return shards;
  }
  return null;
}

/** Parts of more shards than these are not named. */
const mostGuessed = 200;

/** People count years from 1. */
function yearsText(from: number, to: number): string {
  return `years ${String(from + 1)} to ${String(to)}`;
}

function checkAlike(first: NamedPart, part: NamedPart): void {
  const same = JSON.stringify(part.head) === JSON.stringify(first.head);
  if (same && part.fingerprint === first.fingerprint) return;
  const differs = differenceOf(first.head, part.head);
  throw problem('part-of-another', part.file, {
    message: `this part does not belong to the same estimate as ${first.file}: ${differs}`,
    hint: 'run all parts with the same files and options',
  });
}

function differenceOf(first: EstimatePart['head'], other: EstimatePart['head']): string {
  if (first.seed !== other.seed) return 'another seed';
  if (first.yearsAsked !== other.yearsAsked) return 'another number of years';
  if (first.profile !== other.profile) return 'another profile';
  if (first.watch !== other.watch) return 'another watch file';
  if (first.logic !== other.logic) return 'another logic';
  return 'the contents of the watch file, logic or profile, or the options, differ';
}
