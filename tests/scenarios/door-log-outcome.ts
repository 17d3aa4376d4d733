// What becomes of the text of a door log, on one line: its openings, or what is wrong with it.
import {
  type DoorLog,
  type DoorLogOptions,
  defaultWatchFile,
  timelineOfLog,
} from '../../src/scenarios/index.js';
import { brief, pairsOf, readLog } from './reading.js';
import { digestOf, type openSentences, plainText } from './recording.js';

type Sentences = ReturnType<typeof openSentences>;

/** As many openings are written out. */
const mostWritten = 4;

function opening([fromMs, toMs]: readonly [number, number]): string {
  return `${new Date(fromMs).toISOString().replace('.000Z', 'Z')}+${String((toMs - fromMs) / 1_000)}s`;
}

function countsOf(log: DoorLog): string {
  const { rows, mergedRows, emptyOpenings, hidingRepairs, timeZone } = log;
  const counts = { rows, mergedRows, emptyOpenings, hidingRepairs };
  const said = Object.entries(counts).filter(([, count]) => count > 0);
  return [timeZone, ...said.map(([name, count]) => `${name}=${String(count)}`)].join(' ');
}

/** A log that was read. */
function lineOf(log: DoorLog, sentences: Sentences): string {
  const pairs = pairsOf(log);
  const written = pairs.length > mostWritten ? [digestOf(pairs)] : pairs.map(opening);
  const { fromMs, toMs } = log.unavailable;
  const gaps = Array.from(fromMs, (from, index) => opening([from, toMs[index] ?? 0]));
  const doubled = log.doubled.map((one) => plainText(one));
  const span = `${String((log.lastMs - log.firstMs) / 1_000)}s`;
  return [
    `${String(pairs.length)} openings in ${span}: ${written.join(' ')}`,
    ...(gaps.length === 0 ? [] : [`unknown: ${gaps.join(' ')}`]),
    ...(doubled.length === 0 ? [] : [`doubled: ${doubled.join(' ')}`]),
    countsOf(log),
    ...log.remarks.map((remark) => sentences.brief(remark)),
    timelineLine(log, sentences),
  ].join('; ');
}

const watchFile = defaultWatchFile();

function timelineLine(log: DoorLog, sentences: Sentences): string {
  const timeline = timelineOfLog(log, watchFile, { name: log.file, file: log.file });
  if (!timeline.ok)
    return `no timeline: ${timeline.errors.map((one) => sentences.brief(one)).join('; ')}`;
  const { world, opensAtEnd, remarks } = timeline.value;
  const more = remarks.slice(log.remarks.length).map((remark) => sentences.brief(remark));
  return [`timeline ${digestOf(world)}`, ...(opensAtEnd ? ['opens at its end'] : []), ...more].join(
    ' ',
  );
}

export function outcomeOfLog(
  text: string,
  options: Partial<DoorLogOptions>,
  sentences: Sentences,
): string {
  const log = readLog(text, options);
  return log.ok
    ? lineOf(log.value, sentences)
    : log.errors.map((error) => sentences.brief(error)).join('; ');
}

/** Whether it makes no difference that a text comes in pieces; an excerpt in an error is of what is at hand. */
export function isSameInPieces(text: string, options: Partial<DoorLogOptions>): boolean {
  const [whole, pieces] = [readLog(text, options), readLog(text, options, 7)].map((log) =>
    plainText(log.ok ? log.value : log.errors.map(brief)),
  );
  return whole === pieces;
}
