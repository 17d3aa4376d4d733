// The sound logic with its reactions remembered: all faulty watches with the same settings ask it the same things.
import { codeOf, type DeviceInput, type DeviceLogic, inputCodes } from '../machine/index.js';

/** The same logic; like states are one object, and nothing is worked out twice. */
export function interned<State extends object>(logic: DeviceLogic<State>): DeviceLogic<State> {
  type Reaction = ReturnType<DeviceLogic<State>['react']>;
  const states = new Map<string, State>();
  const keys = new WeakMap<State, string>();
  const reactions = new WeakMap<State, (Reaction | undefined)[]>();
  const key = (state: State): string => {
    const known = keys.get(state);
    if (known !== undefined) return known;
    const made = logic.key(state);
    keys.set(state, made);
    return made;
  };
  const one = (state: State): State => {
    const name = key(state);
    const known = states.get(name);
    if (known === undefined) states.set(name, state);
    return known ?? state;
  };
  const react = (given: State, input: DeviceInput): Reaction => {
    const state = one(given);
    const known = reactions.get(state) ?? Array.from<Reaction | undefined>({ length: inputCodes });
    reactions.set(state, known);
    const code = codeOf(input);
    const reaction = known[code];
    if (reaction !== undefined) return reaction;
    // A check's facts that do not matter give the reaction of the plainest check.
    const plainest = logic.plainest(state, input);
    const made = codeOf(plainest) === code ? logic.react(state, input) : react(state, plainest);
    const kept = { ...made, state: one(made.state) };
    known[code] = kept;
    return kept;
  };
  return { ...logic, initial: one(logic.initial), key, react };
}
