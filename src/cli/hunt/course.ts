// A timeline found by a hunt in words: its events in the order of time, one per line. Its instants are exact: where they could be
// rounded, the hunt has rounded them.
import { durationText, greatestOf, ppmText } from '../../base/index.js';
import type { Trial } from '../../hunt/index.js';
import { clockErrorsOf, type RangeMs, type TimingRanges } from '../../model/index.js';
import type { ClockError, ContactFault, DeviceTiming, VaryingMs } from '../../world/index.js';

interface Event {
  readonly atMs: number;
  readonly what: string;
}

/** @param ranges the device's times: only those that were drawn are listed. */
export function courseLines(trial: Trial, ranges: TimingRanges): readonly string[] {
  const events: Event[] = [
    ...trial.openings.map(([atMs, toMs]) => ({ atMs, what: `door open ${lasting(atMs, toMs)}` })),
    ...trial.networkDown.map(([atMs, toMs]) => ({
      atMs,
      what: `network down ${lasting(atMs, toMs)}`,
    })),
    ...trial.powerLost.map(([atMs, toMs]) => ({ atMs, what: `power lost ${lasting(atMs, toMs)}` })),
    ...trial.resets.map(({ atMs, clears }) => ({
      atMs,
      what: clears ? 'reset (clears retained memory)' : 'reset (keeps retained memory)',
    })),
    ...trial.contactFaults.map((fault) => ({ atMs: fault.fromMs, what: misreadText(fault) })),
  ];
  events.sort((a, b) => a.atMs - b.atMs);
  const instants = events.map(({ atMs }) => (atMs === 0 ? '+0 s' : `+${durationText(atMs)}`));
  const width = Math.max(0, greatestOf(instants.map(({ length }) => length)));
  return [
    ...events.map(({ what }, index) => `${(instants[index] ?? '').padEnd(width)}  ${what}`),
    ...deviceLines(trial.timing, ranges),
  ];
}

function lasting(fromMs: number, toMs: number): string {
  return toMs === Number.POSITIVE_INFINITY
    ? 'to the end of the timeline'
    : `for ${durationText(toMs - fromMs)}`;
}

function misreadText({ fromMs, toMs, reads }: ContactFault): string {
  const how = reads.kind === 'stuck' ? reads.at : 'at random';
  return `contact reads ${how} ${lasting(fromMs, toMs)}`;
}

function deviceLines(drawn: DeviceTiming, from: TimingRanges): string[] {
  const lines: string[] = [];
  if (varies(from.bootTime)) lines.push(`boot time: ${varyingText(drawn.bootTime)}`);
  if (varies(from.connectTime)) {
    lines.push(`connect time: ${varyingText(drawn.connectTime)}`);
  }
  if (varies(clockErrorsOf(from.clockError))) {
    lines.push(`clock error: ${errorText(drawn.clockError)}`);
  }
  return lines;
}

function varies({ least, most }: RangeMs): boolean {
  return least !== most;
}

function varyingText(varying: VaryingMs): string {
  switch (varying.kind) {
    case 'fixed':
      return durationText(varying.ms);
    case 'inTurn':
      return `${varying.ms.map(durationText).join(', ')} (and so on)`;
    case 'range':
      return `${durationText(varying.leastMs)} to ${durationText(varying.greatestMs)}`;
  }
}

function errorText(error: ClockError): string {
  if (error.kind === 'fixed') return ppmText(error.ppm);
  if (error.kind === 'inTurn') return `${error.ppm.map(ppmText).join(', ')} (and so on)`;
  return 'as in the watch file';
}
