// A run as a value change dump (IEEE 1364-2005, clause 18), for viewers of waveforms: one line a change, 1 ms a step.
import { localTime, type Timeline, type WatchFile } from '../../scenarios/index.js';
import type { Trace } from '../../sim/index.js';
import { type Signal, type Step, signalsOf } from './signals.js';

export interface DumpInput {
  readonly timeline: Timeline;
  /** Of a run that was recorded as a whole. */
  readonly trace: Trace;
  readonly watchFile: WatchFile;
  readonly version: string;
}

interface Line {
  readonly atMs: number;
  readonly text: string;
}

/** The dump in pieces of whole lines, the same every time. */
export function* valueChangeDump({ timeline, trace, ...on }: DumpInput): Generator<string> {
  const { world, moves } = timeline;
  const signals = signalsOf({ trace, world, moves, watchFile: on.watchFile });
  yield header(timeline, signals, on.version);
  const initial: string[] = [];
  const lines: Line[] = [];
  signals.forEach((signal, index) => {
    const [first, ...later] = changesOf(signal, trace.lengthMs);
    if (first !== undefined) initial.push(lineOf(signal, index, first.value));
    // Not spread into a call: a long run has more changes than a call may have arguments.
    for (const { atMs, value } of later) lines.push({ atMs, text: lineOf(signal, index, value) });
  });
  yield `#0\n$dumpvars\n${initial.join('\n')}\n$end\n`;
  lines.sort((a, b) => a.atMs - b.atMs);
  let nowMs = 0;
  for (const { atMs, text } of lines) {
    if (atMs !== nowMs) yield `#${String(atMs)}\n`;
    nowMs = atMs;
    yield `${text}\n`;
  }
  if (nowMs < trace.lengthMs) yield `#${String(trace.lengthMs)}\n`;
}

function header({ name, start }: Timeline, signals: readonly Signal[], version: string): string {
  const { date, time, offset } = localTime(start, 0);
  const variables = signals.map(({ name: own, kind }, index) =>
    kind === 'real'
      ? `$var real 64 ${codeOf(index)} ${own} $end`
      : kind.bits === 1
        ? `$var wire 1 ${codeOf(index)} ${own} $end`
        : `$var reg ${String(kind.bits)} ${codeOf(index)} ${own} [${String(kind.bits - 1)}:0] $end`,
  );
  return [
    `$date ${date}T${time}${offset} $end`,
    `$version dozewatch ${version} $end`,
    `$comment ${commentOf(name)} $end`,
    '$timescale 1 ms $end',
    '$scope module dozewatch $end',
    ...variables,
    '$upscope $end',
    '$enddefinitions $end',
    '',
  ].join('\n');
}

/** Words of a user inside a comment: nothing in them may end it. */
function commentOf(name: string): string {
  return name.replace(/[^\p{L}\p{N} .,:;()_'/-]/gu, ' ').trim();
}

/** Identifiers are printable ASCII; letters do, there are far fewer signals. */
function codeOf(index: number): string {
  return String.fromCharCode(65 + index);
}

/** The value at the start, then only what changes, one change an instant. */
function changesOf({ steps }: Signal, lengthMs: number): Step[] {
  const changes: Step[] = [];
  steps.forEach((step, index) => {
    if (step.atMs > lengthMs || steps[index + 1]?.atMs === step.atMs) return;
    if (changes.at(-1)?.value !== step.value) changes.push(step);
  });
  return changes;
}

function lineOf({ kind }: Signal, index: number, value: number | null): string {
  const code = codeOf(index);
  if (kind === 'real') return `r${String(value ?? 0)} ${code}`;
  if (kind.bits === 1) return `${value === null ? 'x' : String(value)}${code}`;
  return `b${value === null ? 'x' : value.toString(2)} ${code}`;
}
