// A scenario written back as YAML: every instant as a duration after the start, exact to the millisecond.
import { Temporal } from 'temporal-polyfill';
import { Document, isMap, isSeq } from 'yaml';
import { type TrueMs, trueMs, writeDuration } from '../../base/index.js';
import { type ResetKind, type ResetMemory, unknownResets } from '../../model/index.js';
import {
  type ClockError,
  type ContactFault,
  noSpans,
  type Spans,
  type VaryingMs,
} from '../../world/index.js';
import { profileEntry } from '../profile/profile-entry.js';
import { errorMeasure, gapMeasure, writeMeasure } from '../quantity/measure.js';
import { zoneOf } from '../time/local-time.js';
import { writeAfterStart } from '../time/written-instant.js';
import type {
  Expectations,
  GeneratedDoor,
  Scenario,
  ScenarioOpening,
  TimelineStart,
} from '../types.js';

/** A shut door, an undisturbed device: for a scenario that is put together rather than read. */
export function emptyScenario(name: string, lengthMs: TrueMs): Scenario {
  return {
    name,
    file: name,
    start: { epochMs: 1_777_852_800_000, timeZone: 'UTC' },
    lengthMs,
    powerOnAtMs: trueMs(0),
    door: [],
    generate: null,
    networkDown: noSpans,
    powerLost: noSpans,
    resetsMs: new Float64Array(0),
    resetKinds: [],
    chargedMs: new Float64Array(0),
    contactFaults: [],
    temperature: [],
    environment: { bootTime: null, connectTime: null, clockError: null, reset: unknownResets },
    seed: null,
    expect: null,
  };
}

/**
 * A scenario as YAML that `parseScenario` reads back to the same timeline.
 * @param comment written above it, a line each.
 */
export function scenarioText(scenario: Scenario, comment: readonly string[] = []): string {
  const { environment, seed, expect, generate } = scenario;
  const whole = {
    name: scenario.name,
    start: isLeftOut(scenario.start) ? undefined : startText(scenario.start),
    length: writeDuration(scenario.lengthMs),
    powerOnAt: scenario.powerOnAtMs === 0 ? undefined : writeAfterStart(scenario.powerOnAtMs),
    door: scenario.door.map(openingEntry),
    generate: generate === null ? undefined : generateEntry(generate),
    network: stretchEntries(scenario.networkDown, 'down'),
    power: stretchEntries(scenario.powerLost, 'lost'),
    resets: Array.from(scenario.resetsMs, (atMs, index) =>
      resetEntry(atMs, scenario.resetKinds[index] ?? 'button'),
    ),
    charged: Array.from(scenario.chargedMs, writeAfterStart),
    battery: stretchEntries(scenario.batteryLow ?? noSpans, 'low'),
    contact: scenario.contactFaults.map(faultEntry),
    temperature: scenario.temperature.map(({ atMs, celsius }) => ({
      at: writeAfterStart(atMs),
      celsius,
    })),
    environment: withoutGaps({
      bootTime: varyingEntry(environment.bootTime),
      connectTime: varyingEntry(environment.connectTime),
      clockError: clockErrorEntry(environment.clockError),
      reset: resetMemoryEntry(environment.reset),
    }),
    seed: seed ?? undefined,
    expect: expect === null ? undefined : expectEntry(expect),
  };
  const document = new Document(withoutGaps(whole), { version: '1.2' });
  // One line an entry: a person compares openings by running an eye down them.
  if (isMap(document.contents)) {
    for (const { value } of document.contents.items) {
      if (isSeq(value)) {
        for (const item of value.items) if (isMap(item)) item.flow = true;
      } else if (isMap(value)) {
        for (const inner of value.items) {
          if (isSeq(inner.value) || isMap(inner.value)) inner.value.flow = true;
        }
      }
    }
  }
  const heading = comment.map((line) => `# ${line.replaceAll(/\s+/g, ' ')}\n`).join('');
  return `${heading}${document.toString({ lineWidth: 0, flowCollectionPadding: true })}`;
}

/** Leaves out what is undefined, empty lists and empty maps. */
function withoutGaps(map: Readonly<Record<string, unknown>>): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(map).filter(([, value]) => {
      if (Array.isArray(value)) return value.length > 0;
      if (typeof value === 'object' && value !== null) return Object.keys(value).length > 0;
      return value !== undefined;
    }),
  );
}

/** Nothing says when it starts, and nothing would be lost. */
function isLeftOut({ isAssumed, timeZone }: TimelineStart): boolean {
  return isAssumed === true && timeZone === 'UTC';
}

function startText(start: TimelineStart): string {
  const instant = Temporal.Instant.fromEpochMilliseconds(start.epochMs);
  if (start.timeZone === 'UTC') return instant.toString();
  const zoned = instant.toZonedDateTimeISO(start.timeZone);
  if (/^[+-]/.test(start.timeZone)) return zoned.toString({ timeZoneName: 'never' });
  // Old local times were ahead of UTC by odd seconds, which the text of an offset would round.
  const wholeMinutes = zoneOf(start).offsetMs(start.epochMs) % 60_000 === 0;
  return wholeMinutes ? zoned.toString() : `${instant.toString()}[${start.timeZone}]`;
}

function lastingEntry(fromMs: number, toMs: number): Record<string, string> {
  return toMs === Number.POSITIVE_INFINITY
    ? { until: 'end' }
    : { for: writeDuration(toMs - fromMs) };
}

function openingEntry({ fromMs, toMs, gapUm, approach, note }: ScenarioOpening) {
  return {
    at: writeAfterStart(fromMs),
    ...lastingEntry(fromMs, toMs),
    ...(gapUm === null ? {} : { gap: writeMeasure(gapMeasure, gapUm, 'mm') }),
    ...(approach === 'creeping' ? { approach } : {}),
    ...(note === null ? {} : { note }),
  };
}

function resetEntry(atMs: number, kind: ResetKind) {
  return kind === 'button' ? writeAfterStart(atMs) : { at: writeAfterStart(atMs), kind };
}

function resetMemoryEntry(memory: ResetMemory): unknown {
  const said = Object.entries(memory).filter(([, does]) => does !== null);
  return said.length === 0 ? undefined : Object.fromEntries(said);
}

function stretchEntries({ fromMs, toMs }: Spans, key: string) {
  return Array.from(fromMs, (atMs, index) => ({
    [key]: writeAfterStart(atMs),
    ...lastingEntry(atMs, toMs[index] ?? Number.POSITIVE_INFINITY),
  }));
}

function faultEntry({ fromMs, toMs, reads }: ContactFault) {
  const at = { at: writeAfterStart(fromMs), ...lastingEntry(fromMs, toMs) };
  if (reads.kind === 'stuck') return { stuck: reads.at, ...at };
  const openShare = writePpm(reads.openShare * 1_000_000);
  return { chattering: true, ...at, openShare, every: writeDuration(reads.slotMs) };
}

function writePpm(ppm: number): string {
  return writeMeasure(errorMeasure, Math.round(ppm), 'ppm');
}

function varyingEntry(varying: VaryingMs | null): unknown {
  if (varying === null) return undefined;
  switch (varying.kind) {
    case 'fixed':
      return writeDuration(varying.ms);
    case 'range':
      return { min: writeDuration(varying.leastMs), max: writeDuration(varying.greatestMs) };
    case 'inTurn':
      return withoutRepeatedEnd(varying.ms).map((ms) => writeDuration(ms));
  }
}

/** The last value of a list is used from there on, so that it is needed once. */
function withoutRepeatedEnd<T>(values: readonly T[]): readonly T[] {
  const last = values.at(-1);
  return values.slice(0, values.findLastIndex((value) => value !== last) + 2);
}

/** A curve belongs to temperatures, which are written as such. */
function clockErrorEntry(error: ClockError | null): unknown {
  if (error === null) return undefined;
  switch (error.kind) {
    case 'fixed':
      return writePpm(error.ppm);
    case 'drawn':
      return { min: writePpm(error.leastPpm), max: writePpm(error.greatestPpm) };
    case 'inTurn':
      return error.ppm.map(writePpm);
    case 'sleeps':
      return { sleeps: error.ms.map((ms) => writeDuration(ms)) };
    case 'curve':
      return undefined;
  }
}

function expectEntry({ counts, worstDelayAtMostMs, worstDelayAtLeastMs }: Expectations) {
  const wishes = counts.map(({ name, least, most }): [string, unknown] => {
    if (least === most) return [name, least];
    if (least === 0 && most < Number.POSITIVE_INFINITY) return [name, { atMost: most }];
    const atMost = most === Number.POSITIVE_INFINITY ? {} : { atMost: most };
    return [name, { atLeast: least, ...atMost }];
  });
  return {
    ...Object.fromEntries(wishes),
    ...(worstDelayAtMostMs === null ? {} : { worstDelayAtMost: writeDuration(worstDelayAtMostMs) }),
    ...(worstDelayAtLeastMs === null
      ? {}
      : { worstDelayAtLeast: writeDuration(worstDelayAtLeastMs) }),
  };
}

function generateEntry({ profile, seed }: GeneratedDoor) {
  return { profile: profileEntry(profile), ...(seed === null ? {} : { seed }) };
}
