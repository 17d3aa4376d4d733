// What a watch does from one rest to the next, as few enough states for a diagram: what its owner cares for. Found by
// going through every reachable state of the table, wake by wake.
import { durationText, invariant, itemAt } from '../base/index.js';
import {
  effectBit,
  effectCell,
  inputCode,
  inputsAllowed,
  type LogicTable,
  nextState,
  nominalSleepIn,
  reachableStates,
  type WatchSettings,
} from '../machine/index.js';
import type { Program } from '../sim/index.js';
import { alwaysWords, noteOf, type OutlineKind, titleOf } from './outline-words.js';

export interface OutlineState {
  readonly kind: OutlineKind;
  readonly title: string;
  readonly note: string;
  readonly steps: readonly OutlineStep[];
}

/** From one rest to the next: what was found, what is done, and where that leads. */
export interface OutlineStep {
  readonly when: string;
  readonly then: string;
  readonly to: OutlineKind;
}

export interface Outline {
  readonly states: readonly OutlineState[];
  /** What may happen at any time, in words. */
  readonly always: readonly string[];
}

/** A step before steps that only differ in what the contact reads are one row. */
interface FoundStep {
  readonly reads: 'open' | 'shut';
  readonly facts: string;
  readonly then: string;
  readonly to: OutlineKind;
}

interface RawStep extends FoundStep {
  /** The device sleeps until a recheck. */
  readonly isRecheck: boolean;
  /** Of a shut check: what it makes of the shut checks in a row; empty where one is enough. */
  readonly shutRun: string;
}

function isRecheck(effects: number): boolean {
  return (
    (effects & effectBit.hold) === 0 && (effects & effectBit.sleepMask) === effectBit.sleepRecheck
  );
}

/**
 * The facts of a step, with why it sleeps until a recheck where the state does not say it.
 * @param rechecksFrom the state before a recheck; null: the step ends in another sleep.
 */
function factsOf(
  { facts }: FoundStep,
  rechecksFrom: OutlineKind | null,
  { escalationThreshold: { open, outOf } }: WatchSettings,
): string {
  const says = rechecksFrom === null || rechecksFrom === 'off' || rechecksFrom === 'watching';
  if (says) return facts;
  const few = `fewer than ${open} open of the last ${outOf}`;
  return facts === '' ? few : `${facts}, ${few}`;
}

const kinds: readonly OutlineKind[] = [
  'off',
  'watching',
  'counting',
  'unsent',
  'delivered',
  'held',
];

export function outlineOf({ table, watch }: Program): Outline {
  const found = new Map<OutlineKind, RawStep[]>();
  for (const state of reachableStates(table, inputsAllowed({ table, watch }))) {
    const wake = wakeFrom(table, state);
    if (wake === null) continue;
    const from = kindOf(table, state);
    const steps = stepsFrom(table, watch, nextState(table, state, wake)).map((step) => ({
      ...step,
      facts: factsOf(step, step.isRecheck ? from : null, watch),
    }));
    found.set(from, [...(found.get(from) ?? []), ...steps]);
  }
  const states = kinds.flatMap((kind): OutlineState[] => {
    const steps = found.get(kind);
    if (steps === undefined) return [];
    const distinct = steps.map((step) => withShutRun(step, steps));
    return [
      { kind, title: titleOf(kind), note: noteOf(kind, watch), steps: joined(kind, distinct) },
    ];
  });
  return { states, always: alwaysWords(watch) };
}

/** A step that reads like another one which leads elsewhere says how many shut checks in a row it takes. */
function withShutRun(step: RawStep, steps: readonly RawStep[]): FoundStep {
  const { reads, facts, then, to, shutRun } = step;
  const isAlike = (other: RawStep): boolean =>
    other.reads === reads && other.facts === facts && other.then === then && other.to !== to;
  const isDoubtful = shutRun !== '' && steps.some(isAlike);
  const words = facts === '' ? shutRun : `${facts}, ${shutRun}`;
  return { reads, facts: isDoubtful ? words : facts, then, to };
}

/** The input that ends a rest; null for what is no rest. */
function wakeFrom({ phases }: LogicTable, state: number): number | null {
  switch (itemAt(phases, state)) {
    case 'off':
      return inputCode.wake['power-on'];
    case 'asleep':
      return inputCode.wake.timer;
    case 'holding':
      return inputCode.wake.reset;
    case 'awake':
    case 'sendingAlert':
    case 'sendingHeartbeat':
    case 'sendingLowBattery':
      return null;
  }
}

function kindOf({ phases, memories }: LogicTable, state: number): OutlineKind {
  const phase = itemAt(phases, state);
  if (phase === 'off') return 'off';
  if (phase === 'holding') return 'held';
  const { alertPending, coolingDown, recentChecks } = itemAt(memories, state);
  if (alertPending) return 'unsent';
  if (coolingDown) return 'delivered';
  return recentChecks > 0 ? 'counting' : 'watching';
}

/** All that can come of the check of a wake; a heartbeat or a low-battery message makes no difference to it. */
function stepsFrom(table: LogicTable, watch: WatchSettings, awake: number): readonly RawStep[] {
  return [0, 1, 2, 3].flatMap((facts): RawStep[] => {
    const code = inputCode.check + facts;
    const reads = (facts & inputCode.checkReadsOpen) === 0 ? 'shut' : 'open';
    const words = cooldownWords(table, awake, code);
    if (words === null) return [];
    const effects = effectCell(table, awake, code);
    const after = nextState(table, awake, code);
    if ((effects & effectBit.attemptAlert) === 0) {
      const then = [...dropWords(effects), sleepWords(effects, watch)].join(', ');
      return [
        {
          reads,
          facts: words,
          then,
          to: kindOf(table, after),
          isRecheck: isRecheck(effects),
          shutRun: reads === 'shut' ? shutRunWords(table, watch, { awake, after }) : '',
        },
      ];
    }
    return [inputCode.alertDelivered, inputCode.alertFailed].map((outcome) => {
      const end = effectCell(table, after, outcome);
      const decided = (effects & effectBit.decideAlert) === 0 ? 'sends again' : 'alert decided';
      const sent = sentWords(outcome, end, watch);
      const then = `${decided}, ${sent}, ${sleepWords(end, watch)}`;
      const to = kindOf(table, nextState(table, after, outcome));
      return { reads, facts: words, then, to, isRecheck: isRecheck(end), shutRun: '' };
    });
  });
}

const ordinals = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth'];

/** What a shut check makes of the run of shut ones. */
function shutRunWords(
  { memories }: LogicTable,
  { clearThreshold, escalationThreshold }: WatchSettings,
  { awake, after }: { readonly awake: number; readonly after: number },
): string {
  if (clearThreshold === 1) return '';
  const [before, then] = [itemAt(memories, awake), itemAt(memories, after)];
  const which = ordinals[clearThreshold - 1];
  const last = which === undefined ? `shut check ${clearThreshold}` : `the ${which} shut check`;
  if (then.shutRun >= clearThreshold) return `${last} in a row`;
  const forgets = before.recentChecks > 0 && then.recentChecks === 0;
  if (forgets) return `none of the last ${escalationThreshold.outOf} open`;
  return clearThreshold === 2 ? 'the first in a row' : `not yet ${last} in a row`;
}

function sentWords(outcome: number, end: number, { retryAttempts }: WatchSettings): string {
  if (outcome === inputCode.alertDelivered) return 'delivered';
  const fallsBack = (end & effectBit.sleepMask) === effectBit.sleepCheck;
  return fallsBack ? `attempt ${retryAttempts} of ${retryAttempts} fails` : 'attempt fails';
}

/** What the cooldown is, where it makes a difference; null: this check shares the row of the one with the cooldown over. */
function cooldownWords(table: LogicTable, awake: number, code: number): string | null {
  const other = code ^ inputCode.checkCooldownOver;
  const over = (code & inputCode.checkCooldownOver) !== 0;
  const alike =
    nextState(table, awake, code) === nextState(table, awake, other) &&
    effectCell(table, awake, code) === effectCell(table, awake, other);
  if (alike) return over ? '' : null;
  return over ? 'cooldown over' : 'in the cooldown';
}

function dropWords(effects: number): readonly string[] {
  return (effects & effectBit.dropAlert) === 0 ? [] : ['alert dropped'];
}

function sleepWords(effects: number, watch: WatchSettings): string {
  if ((effects & effectBit.hold) !== 0) return 'stays awake';
  return `sleeps ${durationText(nominalSleepIn(effects, watch) ?? 0)}`;
}

/** A step that another one includes, because it does the same without its condition, is left out. */
function isIncluded(
  group: readonly FoundStep[],
  groups: readonly (readonly FoundStep[])[],
): boolean {
  const [first] = group;
  if (first === undefined || first.facts === '') return false;
  const { then, to } = first;
  return group.every(({ reads }) =>
    groups.some((other) =>
      other.some(
        (one) => one.facts === '' && one.reads === reads && one.then === then && one.to === to,
      ),
    ),
  );
}

/** Steps that differ in nothing, or only in what the contact reads, as one. */
function joined(kind: OutlineKind, steps: readonly FoundStep[]): readonly OutlineStep[] {
  const groups = new Map<string, FoundStep[]>();
  for (const step of steps) {
    const key = [step.facts, step.then, step.to].join('|');
    groups.set(key, [...(groups.get(key) ?? []), step]);
  }
  const wakes = kind === 'off' ? 'power comes on, ' : kind === 'held' ? 'a reset, ' : '';
  const all = [...groups.values()];
  return all
    .filter((group) => !isIncluded(group, all))
    .map((group) => {
      const [first] = group;
      invariant(first !== undefined, 'a group has a step', { kind });
      const readings = ['open', 'shut'].filter((reads) => group.some((one) => one.reads === reads));
      const facts = first.facts === '' ? '' : `, ${first.facts}`;
      return {
        when: `${wakes}reads ${readings.join(' or ')}${facts}`,
        then: first.then,
        to: first.to,
      };
    });
}
