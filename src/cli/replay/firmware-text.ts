// What a report adds about a firmware: how it broke, what happened before, and what it printed.
import { durationText, plain, roundedApart } from '../../base/index.js';
import { dayAndTime, plainCut, type ReplayView } from '../../wording/index.js';
import type { World } from '../../world/index.js';
import type { Paint } from '../layout/paint.js';

/** The most events printed before a failure. */
const mostEvents = 8;
const mostPrintedLines = 10;

/** Nothing where the machine of the watch file ran, or the firmware came to the end of the timeline. */
export function* failureText(view: ReplayView, paint: Paint): Generator<string> {
  const failure = view.firmware?.failure ?? null;
  if (failure === null) return;
  const { kind, atMs, what } = failure;
  const events = eventsUntil(view.timeline.world, atMs).slice(-mostEvents);
  const rounded = roundedApart([atMs, ...events.map((event) => event.atMs)]);
  const local = (ms: number): string => dayAndTime(view.moments(rounded(ms)));
  const sinceStart = (ms: number): string => (ms === 0 ? '+0 s' : `+${durationText(rounded(ms))}`);
  yield `${paint.bad(paint.bold('FIRMWARE BROKE'))}  ${local(atMs)} (${sinceStart(atMs)}): ${plain(what)} ${paint.dim(`[${kind}]`)}\n`;
  yield events.length === 0 ? '  Nothing had happened before.\n' : '  Before that:\n';
  for (const { atMs: eventMs, words } of events) {
    yield `    ${local(eventMs)}  ${paint.dim(sinceStart(eventMs))}  ${words}\n`;
  }
  yield '  The rest is judged as if the firmware did nothing from then on.\n\n';
}

interface WorldEvent {
  readonly atMs: number;
  readonly words: string;
}

/** What the world did to a device up to an instant, in order. */
export function eventsUntil(world: World, untilMs: number): readonly WorldEvent[] {
  const { openings, networkDown, powerLost, resetsMs, powerOnAtMs } = world;
  const columns: readonly (readonly [Float64Array, string])[] = [
    [Float64Array.of(powerOnAtMs), 'power on'],
    [openings.fromMs, 'door opens'],
    [openings.toMs, 'door shuts'],
    [networkDown.fromMs, 'network down'],
    [networkDown.toMs, 'network up'],
    [powerLost.fromMs, 'power lost'],
    [powerLost.toMs, 'power back'],
    [resetsMs, 'reset'],
  ];
  return columns
    .flatMap(([instants, words]) =>
      Array.from(instants.filter((atMs) => atMs <= untilMs).slice(-mostEvents), (atMs) => ({
        atMs,
        words,
      })),
    )
    .sort((a, b) => a.atMs - b.atMs);
}

/** What decided the first finding; nothing where there was none. */
export function* decidingText({ firmware }: ReplayView): Generator<string> {
  if (firmware === null || firmware.deciding.length === 0) return;
  yield `\n${firmware.deciding.map(plain).join('\n')}\n`;
}

/** The first lines that a firmware printed; nothing where it printed nothing. */
export function* printedText({ firmware }: ReplayView, paint: Paint): Generator<string> {
  if (firmware === null || firmware.printed === '') return;
  const lines = firmware.printed.trimEnd().split('\n');
  yield `\n${paint.bold('The firmware printed')}\n`;
  for (const line of lines.slice(0, mostPrintedLines)) yield `  ${plainCut(line, 200)}\n`;
  const shown = lines.slice(0, mostPrintedLines).join('\n').length;
  if (shown < firmware.printedBytes - 1) {
    yield `  … of ${String(firmware.printedBytes)} bytes in all\n`;
  }
}
