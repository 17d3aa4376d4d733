// A battery that one thing alone drains is empty when that thing has taken all of it. When that is follows from the run of the
// same device on a supply that never ends: no price but one, and no sum but one.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import type { ActivityDraw, SupplySettings } from '../../src/model/index.js';
import { type Experiment, simulate } from '../../src/sim/index.js';
import { noSpans, readsOpenAt, type Spans, spansOf } from '../../src/world/index.js';
import { undrained } from '../battery/supplies.js';
import { experiments, scales, someLogics, withoutLowBattery } from '../support/arbitraries.js';
import { expandWakes } from '../support/expand.js';

const logics = someLogics.map(withoutLowBattery);
const never = Number.POSITIVE_INFINITY;

/** Of 1 µAh, in pC. */
const capacityNah = 1_000;
const fullPc = capacityNah * 3_600_000;

const nothing = undrained(capacityNah);

type Span = readonly [fromMs: number, toMs: number];
type Doing = 'asleep' | 'booting' | 'alert' | 'heartbeat' | 'waiting' | 'held';

/** When the device of a run does what, in order. */
function doings(experiment: Experiment): Record<Doing, Span[]> {
  const wakes = expandWakes(simulate(experiment));
  const all: Record<Doing, Span[]> = {
    ...{ asleep: [], booting: [], alert: [], heartbeat: [], waiting: [], held: [] },
  };
  for (const [index, wake] of wakes.entries()) {
    const nextMs = wakes[index + 1]?.wakeMs ?? experiment.world.lengthMs;
    const { wakeMs, checkMs, alertSend, heartbeatSend } = wake;
    all.booting.push([wakeMs, checkMs ?? nextMs]);
    const send = alertSend ?? heartbeatSend;
    if (send !== null) {
      const connectedMs = send.endMs - (send.waitedMs ?? 0);
      all[alertSend === null ? 'heartbeat' : 'alert'].push([send.startMs, connectedMs]);
      all.waiting.push([connectedMs, send.endMs]);
    }
    if (wake.sleep !== null) all.asleep.push([wake.sleep.fromMs, nextMs]);
    if (wake.holds) all.held.push([send?.endMs ?? checkMs ?? wakeMs, nextMs]);
  }
  return all;
}

/** When the contact is closed. */
function shutSpans({ world }: Experiment): Span[] {
  const edges = [0, ...world.contact, world.lengthMs].map((ms) => Math.min(ms, world.lengthMs));
  return edges.flatMap((ms, index) => (index % 2 === 0 ? [[ms, edges[index + 1] ?? ms]] : []));
}

/** The instant at which spans have lasted for this time together. */
function lastedMs(spans: readonly Span[], wantedMs: number): number {
  let leftMs = wantedMs;
  for (const [fromMs, toMs] of spans.toSorted((a, b) => a[0] - b[0])) {
    if (toMs - fromMs >= leftMs) return fromMs + leftMs;
    leftMs -= toMs - fromMs;
  }
  return never;
}

/** What else its world must have. */
interface Calm {
  readonly network?: 'up' | 'down';
  readonly fixedBoot?: boolean;
}

/** A thing that draws a current while it lasts: its supply, and when it does. */
interface Current extends Calm {
  readonly supply: (currentNa: number) => Partial<SupplySettings>;
  readonly when: (experiment: Experiment) => readonly Span[];
}

const current = (currentNa: number): ActivityDraw => ({ kind: 'current', currentNa, timeMs: null });

/** Else it would draw like a boot. */
const hold = current(0);

const currents: Record<string, Current> = {
  'a sleeping device': {
    supply: (sleepNa) => ({ sleepNa }),
    when: (experiment) => doings(experiment).asleep,
  },
  boots: {
    supply: (na) => ({ boot: current(na), hold }),
    when: (experiment) => doings(experiment).booting,
  },
  'a device that holds or waits for the network': {
    supply: (na) => ({ hold: current(na) }),
    when: (experiment) => [...doings(experiment).held, ...doings(experiment).waiting],
  },
  'attempts of alerts, and waits for the network': {
    supply: (na) => ({ connect: current(na), failedAttempt: current(na) }),
    when: (experiment) => [...doings(experiment).alert, ...doings(experiment).waiting],
  },
  'alerts that are delivered': {
    supply: (na) => ({ connect: current(na) }),
    when: (experiment) => doings(experiment).alert,
    network: 'up',
  },
  'attempts that fail': {
    supply: (na) => ({ failedAttempt: current(na) }),
    when: (experiment) => [...doings(experiment).alert, ...doings(experiment).waiting],
    network: 'down',
  },
  heartbeats: {
    supply: (na) => ({ heartbeat: current(na) }),
    when: (experiment) => doings(experiment).heartbeat,
  },
  'whatever the device does': {
    supply: (na) => ({
      sleepNa: na,
      ...{ boot: current(na), connect: current(na), failedAttempt: current(na) },
      ...{ hold: current(na), heartbeat: current(na) },
    }),
    when: ({ world }) => [[0, world.lengthMs]],
  },
  'a closed contact': {
    supply: (na) => ({
      contactBias: { voltageMv: na, resistanceOhm: 1_000_000, powered: 'always' },
    }),
    when: shutSpans,
  },
  'a closed contact while the device boots': {
    supply: (na) => ({
      contactBias: { voltageMv: na, resistanceOhm: 1_000_000, powered: 'check-only' },
    }),
    fixedBoot: true,
    when: (experiment) =>
      doings(experiment).booting.filter(
        ([wakeMs]) => !readsOpenAt(experiment.world.contact, wakeMs + fixedBootMs),
      ),
  },
};

/** A thing that takes a charge each time: its supply, and at which instants it does. */
interface Each extends Calm {
  readonly supply: (draw: ActivityDraw) => Partial<SupplySettings>;
  readonly at: (experiment: Experiment) => readonly number[];
}

const beginnings = (spans: readonly Span[]): number[] => spans.map(([fromMs]) => fromMs);

const charges: Record<string, Each> = {
  boots: {
    supply: (boot) => ({ boot }),
    at: (experiment) => beginnings(doings(experiment).booting),
  },
  'blinks at open checks': {
    supply: (blink) => ({ blink }),
    at: (experiment) =>
      expandWakes(simulate(experiment)).flatMap(({ contact, checkMs }) =>
        contact === 'open' && checkMs !== null ? [checkMs] : [],
      ),
  },
  'alerts that are delivered': {
    supply: (connect) => ({ connect }),
    at: (experiment) => beginnings(doings(experiment).alert),
    network: 'up',
  },
  'attempts that fail': {
    supply: (failedAttempt) => ({ failedAttempt }),
    at: (experiment) => beginnings(doings(experiment).alert),
    network: 'down',
  },
  heartbeats: {
    supply: (heartbeat) => ({ heartbeat }),
    at: (experiment) => beginnings(doings(experiment).heartbeat),
  },
};

/** Where a boot that something cuts short has to be known by the check that it would have had. */
const fixedBootMs = 3;

/** Without power losses, with one network and perhaps one boot time. */
function calm({ world, timing, ...rest }: Experiment, { network, fixedBoot }: Calm): Experiment {
  const down: Spans = network === 'down' ? spansOf([[0, 10 * world.lengthMs + 1]]) : noSpans;
  const bootTime = { kind: 'fixed', ms: trueMs(fixedBootMs) } as const;
  return {
    ...rest,
    timing: fixedBoot === true ? { ...timing, bootTime } : timing,
    world: {
      ...world,
      powerLost: noSpans,
      powerOnAtMs: trueMs(0),
      networkDown: network === undefined ? world.networkDown : down,
    },
  };
}

function flatOf(experiment: Experiment, supply: Partial<SupplySettings>): number {
  const charge = { supply: { ...nothing, ...supply }, charging: { everyMs: null } };
  const [flat, ...others] = simulate({ ...experiment, charge }, { record: 'none' }).flat;
  expect(others).toEqual([]);
  if (flat !== undefined) expect(flat.toMs).toBe(experiment.world.lengthMs);
  return flat?.fromMs ?? never;
}

/** The end of the timeline comes first. */
const within = ({ world }: Experiment, ms: number): number => (ms < world.lengthMs ? ms : never);

describe.each(scales)('a battery is empty to the millisecond: sleeps from $leastMs ms', (scale) => {
  // Parts of what is used in the whole run: soon, in its course, at its very end and never.
  const parts = fc.constantFrom(0.01, 0.3, 0.7, 0.9, 1, 1.1);

  function forEach(check: (experiment: Experiment, part: number) => void): void {
    const law = fc.property(experiments(scale, 8, logics), parts, (drawn, part) => {
      for (const experiment of drawn) check(experiment, part);
    });
    fc.assert(law, { numRuns: 8 });
  }

  it.each(Object.entries(currents))('drained by %s', (_, { supply, when, ...rest }) => {
    forEach((drawn, part) => {
      const experiment = calm(drawn, rest);
      const spans = when(experiment);
      const wholeMs = spans.reduce((sum, [fromMs, toMs]) => sum + toMs - fromMs, 0);
      const na = Math.floor(fullPc / Math.max(1, Math.round(wholeMs * part)));
      const emptyMs = lastedMs(spans, Math.ceil(fullPc / na));
      expect(flatOf(experiment, supply(na))).toBe(within(experiment, emptyMs));
    });
  });

  it.each(Object.entries(charges))('drained by %s, each', (_, { supply, at, ...rest }) => {
    forEach((drawn, part) => {
      const experiment = calm(drawn, rest);
      const instants = at(experiment);
      const chargePc = Math.floor(fullPc / Math.max(1, Math.round(instants.length * part)));
      const last = instants[Math.ceil(fullPc / chargePc) - 1] ?? never;
      expect(flatOf(experiment, supply({ kind: 'charge', chargePc }))).toBe(
        within(experiment, last + 1),
      );
    });
  });
});
