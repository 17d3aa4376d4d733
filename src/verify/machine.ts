// The watch itself, stepped with the statechart's own pure transition; each reaction is asked for once.
import { invariant } from '../base/index.js';
import {
  type ContactReading,
  type DeviceInput,
  type LogicSettings,
  type RetainedMemory,
  type SleepInterval,
  type WatchSnapshot,
  watchLogic,
  watchMachine,
} from '../machine/index.js';

/** What the device turns to after a check or a send. */
export type Then = 'alert' | 'heartbeat' | SleepInterval | 'hold';

/** What a check leaves behind in the device: what it turns to, what it read, and its memory. */
export interface Situation extends RetainedMemory {
  readonly then: Then;
  readonly contact: ContactReading;
  readonly escalated: boolean;
}

export interface Answer {
  /** Number of the statechart's state after the reaction. */
  readonly state: number;
  /** Null where the device just goes on: a wake, a power loss. */
  readonly then: Then | null;
  readonly decides: boolean;
  readonly drops: boolean;
}

export interface Machine {
  /** The state without power. */
  readonly off: number;
  react(state: number, input: DeviceInput): Answer;
  /** The state that a situation stands for. */
  stateOf(situation: Situation): number;
  situation(spot: Pick<Situation, 'then' | 'contact'> & { readonly state: number }): Situation;
  memory(state: number): RetainedMemory;
  /** Reactions that the statechart was asked for. */
  asked(): number;
}

const phaseOf = {
  alert: 'sendingAlert',
  heartbeat: 'sendingHeartbeat',
  check: 'asleep',
  recheck: 'asleep',
  retry: 'asleep',
  hold: 'holding',
} as const;

const nothingFound = { contact: 'shut', escalated: false } as const;

export function machineOf(settings: LogicSettings): Machine {
  const logic = watchLogic(settings);
  const snapshots: WatchSnapshot[] = [];
  const numbers = new Map<string, number>();
  const answers = new Map<string, Answer>();
  const numberOf = (snapshot: WatchSnapshot): number => {
    const key = nameOf(snapshot);
    const known = numbers.get(key);
    if (known !== undefined) return known;
    numbers.set(key, snapshots.length);
    return snapshots.push(snapshot) - 1;
  };
  const at = (state: number): WatchSnapshot => snapshots[state] ?? logic.initial;
  return {
    off: numberOf(logic.initial),
    react(state, input) {
      const key = `${String(state)} ${Object.values(input).join()}`;
      const known = answers.get(key);
      if (known !== undefined) return known;
      const { state: next, effects } = logic.react(at(state), input);
      const types = effects.map((effect) =>
        effect.type === 'sleep' ? effect.interval : effect.type,
      );
      const answer: Answer = {
        state: numberOf(next),
        then: thenOf(types),
        decides: types.includes('decideAlert'),
        drops: types.includes('dropAlert'),
      };
      answers.set(key, answer);
      return answer;
    },
    stateOf({ then, contact, escalated, ...retained }) {
      // Asleep, it has forgotten what its wake found.
      const sends = then === 'alert' || then === 'heartbeat';
      const thisWake = sends ? { contact, escalated } : nothingFound;
      const context = { settings, retained, thisWake };
      return numberOf(watchMachine.resolveState({ value: { powered: phaseOf[then] }, context }));
    },
    situation({ state, then, contact }) {
      const { retained, thisWake } = at(state).context;
      return { then, contact, escalated: thisWake.escalated, ...retained };
    },
    memory: (state) => at(state).context.retained,
    asked: () => answers.size,
  };
}

function thenOf(types: readonly string[]): Then | null {
  const turns: readonly (readonly [type: string, then: Then])[] = [
    ['attemptAlert', 'alert'],
    ['attemptHeartbeat', 'heartbeat'],
    ['check', 'check'],
    ['recheck', 'recheck'],
    ['retry', 'retry'],
    ['hold', 'hold'],
  ];
  const named = turns.filter(([type]) => types.includes(type));
  invariant(named.length < 2, 'a device does one thing at a time', { types });
  return named[0]?.[1] ?? null;
}

/** All of a state that its reactions depend on. */
function nameOf({ value, context }: WatchSnapshot): string {
  const { retained, thisWake } = context;
  return JSON.stringify([
    value,
    retained.recentChecks,
    retained.shutRun,
    retained.alertPending,
    retained.failedAttempts,
    retained.coolingDown,
    thisWake.contact,
    thisWake.escalated,
  ]);
}
