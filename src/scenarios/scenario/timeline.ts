// A scenario meets a watch file: the door's moves, what the contact reads, and how the device's clock errs.
import { type Diagnostic, ok, type Result, type SourceRef, trueMs, um } from '../../base/index.js';
import { type ClockErrorRange, clockErrorsOf, errorAt, roomCelsius } from '../../model/index.js';
import {
  type DeviceTiming,
  type DoorMove,
  deviceTiming,
  firstAfter,
  openingsOf,
  type ResetEffect,
  type Spans,
  spanAt,
  spansOf,
  wideOpenUm,
  within,
} from '../../world/index.js';
import { contactEdges } from '../contact-edges.js';
import { generateDoor } from '../profile/generate.js';
import { errorMeasure, gapMeasure, writeMeasure } from '../quantity/measure.js';
import { writeAfterStart } from '../time/written-instant.js';
import type { Scenario, ScenarioOpening, Timeline, WatchFile } from '../types.js';

const defaultSeed = '1';

/**
 * A scenario as a timeline for a watch.
 * @param options `seed` goes before the scenario's own.
 * @returns the timeline. Errors: `gap-below-opens-at-least`, `too-many-edges`.
 */
export function timelineOf(
  scenario: Scenario,
  watchFile: WatchFile,
  options: { readonly seed?: string | undefined } = {},
): Result<Timeline> {
  const unlikely = gapsThatCannotBe(scenario.door, watchFile);
  if (unlikely.length > 0) return { ok: false, errors: unlikely };
  const seed = options.seed ?? scenario.seed ?? defaultSeed;
  const source = { file: scenario.file };
  const { door, drawn, leftOut } = wholeDoor(scenario, seed);
  const moves = door.some(({ gapUm }) => gapUm !== null) ? movesOf(door) : null;
  const openings =
    moves === null ? spansOf(door.map(pairOf)) : openingsOf(moves, watchFile.sealGapUm);
  const course = { openings, moves, faults: scenario.contactFaults, seed };
  const contact = contactEdges(course, watchFile.contact, source);
  if (!contact.ok) return contact;
  const { lengthMs, networkDown, powerLost, resetsMs, resetKinds, powerOnAtMs } = scenario;
  const { chargedMs, batteryLow } = scenario;
  return ok({
    name: scenario.name,
    file: scenario.file,
    start: scenario.start,
    world: {
      lengthMs,
      openings,
      contact: contact.value,
      networkDown,
      powerLost,
      resetsMs,
      resetEffects: resetKinds.map((kind): ResetEffect => {
        const does = scenario.environment.reset[kind] ?? watchFile.reset[kind];
        return { kind, clears: does === 'clears', ...(does === null ? { assumed: true } : {}) };
      }),
      powerOnAtMs,
      ...(chargedMs.length === 0 ? {} : { chargedMs }),
      ...(batteryLow === undefined ? {} : { batteryLow }),
    },
    moves,
    timing: timingOf(scenario, watchFile),
    seed,
    expect: scenario.expect,
    notes: notesOf(scenario.door, openings),
    opensAtEnd: false,
    ...(scenario.generate === null ? {} : { isGenerated: true }),
    logged: null,
    remarks: [
      ...sealedGaps(scenario.door, watchFile),
      ...(leftOut > 0 ? [drawnLeftOut(drawn, leftOut, source)] : []),
      ...temperatureRemarks(scenario, watchFile, source),
      ...idleFaults(scenario, source),
      ...chargedWithoutSupply(scenario, watchFile, source),
      ...lowWithoutMessage(scenario, watchFile, source),
      ...assumedResets(scenario, watchFile, source),
    ],
  });
}

type Swing = Pick<ScenarioOpening, 'fromMs' | 'toMs' | 'gapUm' | 'approach'>;

function pairOf({ fromMs, toMs }: Swing): [number, number] {
  return [fromMs, toMs];
}

/** The openings of the list, and those of the profile that keep clear of them. */
function wholeDoor(
  scenario: Scenario,
  seed: string,
): { readonly door: readonly Swing[]; readonly drawn: number; readonly leftOut: number } {
  const { door, generate, lengthMs } = scenario;
  if (generate === null) return { door, drawn: 0, leftOut: 0 };
  const listed = spansOf(door.map(pairOf));
  const drawn = generateDoor(generate.profile, scenario, generate.seed ?? seed);
  const kept = drawn.filter(({ fromMs, toMs }) => !touches(listed, fromMs, toMs));
  const swings = kept.map(({ fromMs, toMs }): Swing => {
    const endMs = toMs > lengthMs ? Number.POSITIVE_INFINITY : toMs;
    return { fromMs: trueMs(fromMs), toMs: endMs, gapUm: null, approach: 'closing' };
  });
  const whole = [...door, ...swings].sort((a, b) => a.fromMs - b.fromMs);
  return { door: whole, drawn: drawn.length, leftOut: drawn.length - kept.length };
}

function touches(spans: Spans, fromMs: number, toMs: number): boolean {
  const before = firstAfter(spans.fromMs, toMs) - 1;
  return before >= 0 && (spans.toMs[before] ?? 0) >= fromMs;
}

/** A door swings wide and is then pushed to its gap in the same instant, unless it creeps there from shut. */
function movesOf(door: readonly Swing[]): readonly DoorMove[] {
  return door.flatMap(({ fromMs, toMs, gapUm, approach }) => {
    const moves: DoorMove[] = [];
    if (approach === 'closing') moves.push({ atMs: fromMs, gapUm: wideOpenUm });
    if (gapUm !== null) moves.push({ atMs: fromMs, gapUm });
    if (toMs !== Number.POSITIVE_INFINITY) moves.push({ atMs: trueMs(toMs), gapUm: um(0) });
    return moves;
  });
}

function timingOf({ environment, temperature }: Scenario, { timing }: WatchFile): DeviceTiming {
  return deviceTiming({ ...environment, temperature }, timing);
}

function notesOf(door: readonly ScenarioOpening[], openings: Spans): ReadonlyMap<number, string> {
  const notes = new Map<number, string>();
  for (const { fromMs, note } of door) {
    const index = note === null ? -1 : spanAt(openings, fromMs);
    if (note === null || index < 0) continue;
    const earlier = notes.get(index);
    notes.set(index, earlier === undefined ? note : `${earlier}; ${note}`);
  }
  return notes;
}

function remark(code: string, source: SourceRef, message: string, hint?: string): Diagnostic {
  return { code, severity: 'warning', source, message, hint };
}

/** Gaps at which the watch file says that the door never rests. */
function gapsThatCannotBe(
  door: readonly ScenarioOpening[],
  { sealGapUm, opensAtLeastUm }: WatchFile,
): Diagnostic[] {
  const mm = (gapUm: number): string => writeMeasure(gapMeasure, gapUm, 'mm');
  return door.flatMap(({ gapUm, gapSource, source }): Diagnostic[] => {
    if (gapUm === null || opensAtLeastUm === null) return [];
    if (gapUm <= sealGapUm || gapUm >= opensAtLeastUm) return [];
    return [
      {
        code: 'gap-below-opens-at-least',
        severity: 'error',
        source: gapSource ?? source,
        message: 'the watch file says that the door never rests at this gap',
        found: mm(gapUm),
        expected: `${mm(opensAtLeastUm)} (door.opensAtLeast) or more`,
        hint: 'make the gap larger, or lower door.opensAtLeast in the watch file',
      },
    ];
  });
}

function sealedGaps(door: readonly ScenarioOpening[], { sealGapUm }: WatchFile): Diagnostic[] {
  const mm = (gapUm: number): string => writeMeasure(gapMeasure, gapUm, 'mm');
  return door
    .filter(({ gapUm }) => gapUm !== null && gapUm <= sealGapUm)
    .map(({ gapUm, source }) =>
      remark(
        'gap-seals',
        source,
        `a gap of ${mm(gapUm ?? 0)} counts as shut, because the door seals up to ${mm(sealGapUm)}`,
        'make gap larger than door.sealGap of the watch file',
      ),
    );
}

function drawnLeftOut(drawn: number, leftOut: number, source: SourceRef): Diagnostic {
  const message = `left out ${String(leftOut)} of ${String(drawn)} generated openings, because they overlapped an opening under door:`;
  return remark('drawn-left-out', source, message);
}

/** The warning for a temperature curve on a timeline without a temperature. */
export function noTemperature(clockError: ClockErrorRange, source: SourceRef): Diagnostic[] {
  const { least, most } = clockErrorsOf(clockError);
  if (clockError.kind === 'range' || least === most) return [];
  const error = writeMeasure(errorMeasure, errorAt(clockError.points, roomCelsius), '%');
  const degrees = String(roomCelsius);
  const message = `the timeline gives no temperature, so the clock error is the one at ${degrees} °C: ${error}`;
  const hint = 'a scenario can give the temperature: temperature: [{ at: +0s, celsius: 4 }]';
  return [remark('temperature-not-given', source, message, hint)];
}

function temperatureRemarks(
  { temperature, environment }: Scenario,
  { timing }: WatchFile,
  source: SourceRef,
): Diagnostic[] {
  if (temperature.length === 0) {
    return environment.clockError === null ? noTemperature(timing.clockError, source) : [];
  }
  if (environment.clockError !== null) {
    const message = 'temperature has no effect, because the scenario sets environment.clockError';
    return [remark('temperature-without-effect', source, message, 'delete one of the two')];
  }
  const { clockError } = timing;
  if (clockError.kind === 'range') {
    const message =
      'temperature has no effect, because device.clockError in the watch file does not depend on it';
    const hint = 'give device.clockError a byTemperature curve, or delete temperature';
    return [remark('temperature-without-effect', source, message, hint)];
  }
  const { points } = clockError;
  const least = points[0]?.celsius ?? 0;
  const greatest = points.at(-1)?.celsius ?? 0;
  return temperature
    .filter(({ celsius }) => celsius < least || celsius > greatest)
    .map(({ celsius }) =>
      remark(
        'temperature-off-curve',
        source,
        `${String(celsius)} °C is outside the curve of device.clockError, so its nearest end is used`,
      ),
    );
}

/** Charges of a battery that the watch file does not describe. */
function chargedWithoutSupply(
  { chargedMs }: Scenario,
  { supply }: WatchFile,
  source: SourceRef,
): Diagnostic[] {
  if (chargedMs.length === 0 || supply !== null) return [];
  const message = 'charged has no effect, because the watch file has no supply section';
  return [remark('charged-without-supply', source, message, 'give the watch file a supply:')];
}

/** A low battery that the watch does not report. */
function lowWithoutMessage(
  { batteryLow }: Scenario,
  { watch }: WatchFile,
  source: SourceRef,
): Diagnostic[] {
  if (batteryLow === undefined || watch.lowBattery !== undefined) return [];
  const message = 'battery has no effect, because the watch sends no low-battery message';
  const hint = 'add lowBattery: { at: 20% } under watch: in the watch file';
  return [remark('low-without-message', source, message, hint)];
}

/** Resets that meet a running device, and of which nothing says whether they keep memory. */
function assumedResets(
  { resetsMs, resetKinds, powerLost, powerOnAtMs, environment }: Scenario,
  { reset }: WatchFile,
  source: SourceRef,
): Diagnostic[] {
  return Array.from(resetsMs).flatMap((atMs, index): Diagnostic[] => {
    const kind = resetKinds[index] ?? 'button';
    const isSaid = (environment.reset[kind] ?? reset[kind]) !== null;
    if (isSaid || atMs <= powerOnAtMs || within(powerLost, atMs)) return [];
    const message = `the ${kind} reset at ${writeAfterStart(atMs)} is taken to keep retained memory, because the watch file does not say`;
    const hint = `set device.reset: { ${kind}: keeps } or { ${kind}: clears }`;
    return [remark('reset-assumed', source, message, hint)];
  });
}

/** Resets that meet no running device. */
function idleFaults(
  { resetsMs, powerLost, powerOnAtMs }: Scenario,
  source: SourceRef,
): Diagnostic[] {
  return Array.from(resetsMs)
    .filter((atMs) => atMs < powerOnAtMs || within(powerLost, atMs))
    .map((atMs) =>
      remark(
        'reset-without-power',
        source,
        `the reset at ${writeAfterStart(atMs)} has no effect, because the device has no power then`,
      ),
    );
}
