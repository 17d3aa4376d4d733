// The watch's own logic with a mistake built in: what it takes an input for, what it finds in memory, what it
// keeps, what it does. Everything else is the sound statechart's doing.
import {
  type DeviceEffect,
  type DeviceInput,
  type DeviceLogic,
  initialMemory,
  type LogicSettings,
  type RetainedMemory,
  type WatchSnapshot,
  withMemory,
} from '../machine/index.js';

/** A mistake in the logic. What is left out is as it should be. */
export interface LogicChange {
  /** What the input is taken for. */
  readonly takes?: (input: DeviceInput) => DeviceInput;
  /** What is found in memory when an input comes, in place of what was kept there. */
  readonly finds?: (
    memory: RetainedMemory,
    input: DeviceInput,
    fresh: RetainedMemory,
  ) => RetainedMemory;
  /** What is kept, in place of the memory after the reaction. */
  readonly keeps?: (
    after: RetainedMemory,
    before: RetainedMemory,
    input: DeviceInput,
  ) => RetainedMemory;
  /** What a check changes in memory is saved only when what it sends has ended. */
  readonly savesAfterSend?: true;
  /** What is done, in place of the reaction's effects. */
  readonly does?: (effects: readonly DeviceEffect[], input: DeviceInput) => readonly DeviceEffect[];
}

export interface ChangedState {
  readonly inner: WatchSnapshot;
  /** An alert was decided, and neither delivered nor dropped: whatever the faulty memory says of it. */
  readonly owed: boolean;
  /** While something is sent: the memory that a reset finds, where it is not that of `inner`. */
  readonly saved: RetainedMemory | null;
}

/**
 * The logic of `sound` with a change. An alert that its memory loses is dropped at the next check, one that it makes
 * up is decided there: traces stay true to what the owner sees.
 */
export function changedLogic(
  sound: DeviceLogic<WatchSnapshot>,
  settings: LogicSettings,
  change: LogicChange,
): DeviceLogic<ChangedState> {
  const fresh = initialMemory(settings.clearThreshold);
  const remember = (state: WatchSnapshot, memory: RetainedMemory): WatchSnapshot =>
    memory === sound.memory(state) ? state : withMemory(state, memory);
  return {
    initial: { inner: sound.initial, owed: false, saved: null },
    react({ inner, owed, saved }, input) {
      const isReset = input.type === 'wake' && input.cause === 'reset';
      const kept = (isReset ? saved : null) ?? sound.memory(inner);
      const before = change.finds?.(kept, input, fresh) ?? kept;
      const taken = change.takes?.(input) ?? input;
      const reaction = sound.react(remember(inner, before), taken);
      const after = sound.memory(reaction.state);
      const memory = change.keeps?.(after, before, input) ?? after;
      const effects = change.does?.(reaction.effects, input) ?? reaction.effects;
      const account = accounted(effects, { input, owed, pending: before.alertPending });
      const isUnsaved = change.savesAfterSend === true && input.type === 'check' && sends(effects);
      return {
        state: {
          inner: remember(reaction.state, memory),
          owed: account.owed,
          saved: isUnsaved ? before : null,
        },
        effects: account.effects,
      };
    },
    // The mistake may look at facts that the sound logic sets aside.
    plainest: (_, input) => input,
    phase: ({ inner }) => sound.phase(inner),
    memory: ({ inner }) => sound.memory(inner),
    key: ({ inner, owed, saved }) =>
      `${sound.key(inner)}${owed ? '!' : ''}${saved === null ? '' : JSON.stringify(saved)}`,
  };
}

const sending: readonly DeviceEffect['type'][] = [
  'attemptAlert',
  'attemptHeartbeat',
  'attemptLowBattery',
];

function sends(effects: readonly DeviceEffect[]): boolean {
  return effects.some(({ type }) => sending.includes(type));
}

/** The effects, and whether an alert is owed after them, so that they fit what was decided and sent before. */
function accounted(
  effects: readonly DeviceEffect[],
  on: { readonly input: DeviceInput; readonly owed: boolean; readonly pending: boolean },
): { readonly effects: readonly DeviceEffect[]; readonly owed: boolean } {
  const { input, owed, pending } = on;
  if (input.type === 'powerLost') return { effects, owed: false };
  if (input.type === 'alertAttempted') return { effects, owed: owed && !input.delivered };
  if (input.type !== 'check') return { effects, owed };
  const has = (type: DeviceEffect['type']): boolean => effects.some((one) => one.type === type);
  const lost = owed && !pending;
  const madeUp = !owed && pending;
  const rest = effects.filter(({ type }) => type !== 'dropAlert');
  const drops = owed && (lost || has('dropAlert'));
  const decides = madeUp && has('attemptAlert');
  return {
    effects: [
      ...(drops ? [{ type: 'dropAlert' } as const] : []),
      ...(decides ? [{ type: 'decideAlert' } as const] : []),
      ...rest,
    ],
    owed: has('attemptAlert') || (owed && !drops),
  };
}
