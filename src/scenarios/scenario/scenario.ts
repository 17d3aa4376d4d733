// A scenario's text becomes a scenario, or a list of all that is wrong with it.
import type * as z from 'zod';
import { type Diagnostic, nameOfFile, ok, pushAll, type Result, trueMs } from '../../base/index.js';
import { type Spans, spansOf, type TemperatureStep } from '../../world/index.js';
import { check, unknownKey } from '../text/decode.js';
import { readDocument, type TextDocument } from '../text/document.js';
import { inOrder } from '../text/in-order.js';
import { otherKind } from '../text/kind-of-file.js';
import type { Scenario, TimelineStart } from '../types.js';
import {
  batteryItem,
  chargedItem,
  faultItem,
  lossItem,
  openingItem,
  outageItem,
  plainFields,
  resetItem,
  scenarioDefinition,
  temperatureItem,
} from './definition.js';
import { type Entry, type Reading, readEntries, readInside, readStretch } from './entries.js';
import { readFaults } from './faults.js';
import { readOpenings } from './openings.js';
import { readStart } from './start.js';

type Root = Readonly<Record<string, unknown>>;

/**
 * Reads a scenario, in YAML, or in JSON when its name ends in `.json`.
 * @param file names it in messages.
 * @returns the scenario, every instant worked out; or all errors, each with its line.
 */
export function parseScenario(text: string, file: string): Result<Scenario> {
  const document = readDocument(text, file);
  if (document.root === undefined) return { ok: false, errors: document.errors };
  if (!isRoot(document.root)) {
    const checked = check(scenarioDefinition, document.root, { document, path: [] });
    return { ok: false, errors: checked.ok ? [] : checked.errors };
  }
  const other = otherKind(document, 'scenario');
  if (other !== null) return { ok: false, errors: [other] };
  const errors = [...document.errors, ...unknownKeys(document, document.root)];
  const scenario = readScenario(document, document.root, { file, errors });
  return scenario !== null && errors.length === 0
    ? ok(scenario)
    : { ok: false, errors: inOrder(errors) };
}

function isRoot(value: unknown): value is Root {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function unknownKeys(document: TextDocument, root: Root): readonly Diagnostic[] {
  const known = Object.keys(scenarioDefinition.shape);
  return Object.keys(root)
    .filter((key) => !known.includes(key))
    .map((key) => unknownKey(document, [key], { known, whole: scenarioDefinition }));
}

/** `delivery-day` for `scenarios/delivery-day.yaml`. */
function namedAfter(file: string): string {
  const base = nameOfFile(file).replace(/(?<=.)\.[^.]*$/u, '');
  return base === '-' || base === '' ? 'scenario' : base;
}

/** Reads key by key and entry by entry, so that what is wrong with one hides nothing of the others. */
function readScenario(
  document: TextDocument,
  root: Root,
  { file, errors }: { readonly file: string; readonly errors: Diagnostic[] },
): Scenario | null {
  const one = <Field extends z.ZodType>(key: string, field: Field): z.output<Field> | null => {
    const checked = check(field, root[key], { document, path: [key], whole: scenarioDefinition });
    if (checked.ok) return checked.value;
    pushAll(errors, checked.errors);
    return null;
  };
  one('$schema', plainFields.$schema);
  const name = one('name', plainFields.name);
  const environment = one('environment', plainFields.environment);
  const seed = one('seed', plainFields.seed);
  const expect = one('expect', plainFields.expect);
  const generate = one('generate', plainFields.generate);
  const powerOnAt = one('powerOnAt', plainFields.powerOnAt);
  const lengthMs = one('length', plainFields.length);
  const start = startOf(
    document,
    one('start', plainFields.start),
    one('zone', plainFields.zone),
    errors,
  );
  const isAssumed = root['start'] === undefined;
  const lists = readLists(document, root, errors);
  if (start === null || lengthMs === null) return null;
  const reading: Reading = { document, start, lengthMs, errors };
  const powerOnAtMs = powerOnAt === null ? null : readInside(reading, powerOnAt, ['powerOnAt']);
  const world = readWorld(reading, lists);
  if (name === null || environment === null || powerOnAtMs === null) return null;
  return {
    name: name ?? namedAfter(file),
    file,
    start: isAssumed ? { ...start, isAssumed } : start,
    lengthMs,
    powerOnAtMs: trueMs(powerOnAtMs),
    ...world,
    generate: generate ?? null,
    environment: {
      bootTime: environment.bootTime ?? null,
      connectTime: environment.connectTime ?? null,
      clockError: environment.clockError ?? null,
      reset: {
        button: environment.reset?.button ?? null,
        watchdog: environment.reset?.watchdog ?? null,
        software: environment.reset?.software ?? null,
      },
    },
    seed: seed ?? null,
    expect: expect ?? null,
  };
}

function startOf(
  document: TextDocument,
  text: string | null,
  zone: string | null | undefined,
  errors: Diagnostic[],
): TimelineStart | null {
  if (text === null || zone === null) return null;
  const start = readStart(text, zone);
  if (start.ok) return start.value;
  errors.push(document.diagnose([start.problem.key], start.problem));
  return null;
}

type Lists = ReturnType<typeof readLists>;

function readLists(document: TextDocument, root: Root, errors: Diagnostic[]) {
  const entries = <Item extends z.ZodType>(key: string, item: Item) =>
    readEntries(document, { key, value: root[key], item }, errors);
  return {
    door: entries('door', openingItem),
    network: entries('network', outageItem),
    power: entries('power', lossItem),
    resets: entries('resets', resetItem),
    charged: entries('charged', chargedItem),
    battery: entries('battery', batteryItem),
    contact: entries('contact', faultItem),
    temperature: entries('temperature', temperatureItem),
  };
}

function readWorld(reading: Reading, lists: Lists) {
  const outages = lists.network.map(({ given, path }) =>
    readStretch(reading, { ...given, at: given.down }, { path, key: 'down' }),
  );
  const losses = lists.power.map(({ given, path }) =>
    readStretch(reading, { ...given, at: given.lost }, { path, key: 'lost' }),
  );
  const low = lists.battery.map(({ given, path }) =>
    readStretch(reading, { ...given, at: given.low }, { path, key: 'low' }),
  );
  return {
    door: readOpenings(reading, lists.door),
    networkDown: merged(outages),
    powerLost: merged(losses),
    ...readResets(reading, lists.resets),
    chargedMs: readCharged(reading, lists.charged),
    ...(low.length === 0 ? {} : { batteryLow: merged(low) }),
    contactFaults: readFaults(reading, lists.contact),
    temperature: readTemperature(reading, lists.temperature),
  };
}

/** Outages that overlap are one. */
function merged(stretches: readonly ({ fromMs: number; toMs: number } | null)[]): Spans {
  return spansOf(
    stretches
      .filter((stretch) => stretch !== null)
      .map(({ fromMs, toMs }): [number, number] => [fromMs, toMs]),
  );
}

function readResets(
  reading: Reading,
  entries: readonly Entry<z.output<typeof resetItem>>[],
): Pick<Scenario, 'resetsMs' | 'resetKinds'> {
  const resets = inTime(
    entries.map(({ given: { at, kind }, path }) => ({
      atMs: readInside(reading, at, path),
      kind,
      path,
    })),
    reading,
  );
  return {
    resetsMs: Float64Array.from(resets, ({ atMs }) => atMs),
    resetKinds: resets.map(({ kind }) => kind),
  };
}

function readCharged(
  reading: Reading,
  entries: readonly Entry<z.output<typeof chargedItem>>[],
): Float64Array {
  const instants = inTime(
    entries.map(({ given, path }) => ({ atMs: readInside(reading, given, path), path })),
    reading,
  );
  return Float64Array.from(instants, ({ atMs }) => atMs);
}

function readTemperature(
  reading: Reading,
  entries: readonly Entry<z.output<typeof temperatureItem>>[],
): readonly TemperatureStep[] {
  const steps = entries.map(({ given, path }) => ({
    atMs: readInside(reading, given.at, [...path, 'at']),
    celsius: given.celsius,
    path,
  }));
  return inTime(steps, reading).map(({ atMs, celsius }) => ({ atMs: trueMs(atMs), celsius }));
}

/** Sorts what happens at instants; two at one instant are an error. */
function inTime<T extends { readonly atMs: number | null; readonly path: Entry<unknown>['path'] }>(
  things: readonly T[],
  { document, errors }: Reading,
): readonly (T & { readonly atMs: number })[] {
  const placed = things.flatMap((thing) => {
    const { atMs } = thing;
    return atMs === null ? [] : [{ ...thing, atMs }];
  });
  placed.sort((a, b) => a.atMs - b.atMs);
  placed.forEach(({ atMs, path }, index) => {
    if (atMs !== placed[index - 1]?.atMs) return;
    const problem = {
      code: 'instant-twice',
      says: 'is at the same time as another entry',
      hint: 'delete one of them',
    };
    errors.push(document.diagnose(path, problem));
  });
  return placed;
}
