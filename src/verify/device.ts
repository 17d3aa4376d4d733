// The device itself: the watch's statechart, stepped by XState's own pure transition. Each reaction is asked for once.
import { invariant } from '../base/index.js';
import {
  type DeviceInput,
  type LogicSettings,
  type SleepInterval,
  type WatchSnapshot,
  watchLogic,
} from '../machine/index.js';

/** What the device is at: without power, on its way to a check, sending, asleep, or awake until a reset. */
export type Activity = 'dark' | 'boot' | 'alert' | 'heartbeat' | SleepInterval | 'hold';

export interface Device {
  /** Tells it apart: what it is at, and what it remembers. */
  readonly name: string;
  readonly activity: Activity;
  /** A cooldown has begun and nothing has ended it. */
  readonly coolingDown: boolean;
  react(input: DeviceInput): Reaction;
}

export interface Reaction {
  readonly device: Device;
  readonly decides: boolean;
  readonly drops: boolean;
}

/** The device without power. */
export function deviceOf(settings: LogicSettings): Device {
  const logic = watchLogic(settings);
  const known = new Map<string, Device>();
  const deviceAt = (snapshot: WatchSnapshot, falls: SleepInterval | null): Device => {
    const phase = logic.phase(snapshot);
    const activity = phase === 'asleep' ? falls : activities[phase];
    invariant(activity !== null, 'a device falls asleep for an interval', { phase });
    const { retained, thisWake } = snapshot.context;
    const name = [activity, ...factsIn({ ...retained, ...thisWake })].join(', ');
    const device = known.get(name) ?? newDevice(snapshot, activity, name);
    known.set(name, device);
    return device;
  };
  const newDevice = (snapshot: WatchSnapshot, activity: Activity, name: string): Device => {
    const reactions = new Map<string, Reaction>();
    const ask = (input: DeviceInput): Reaction => {
      const { state, effects } = logic.react(snapshot, input);
      const sleep = effects.find((effect) => effect.type === 'sleep');
      return {
        device: deviceAt(state, sleep?.interval ?? null),
        decides: effects.some(({ type }) => type === 'decideAlert'),
        drops: effects.some(({ type }) => type === 'dropAlert'),
      };
    };
    const { coolingDown } = logic.memory(snapshot);
    return {
      ...{ name, activity, coolingDown },
      react(input) {
        const key = Object.values(input).join();
        const reaction = reactions.get(key) ?? ask(input);
        reactions.set(key, reaction);
        return reaction;
      },
    };
  };
  return deviceAt(logic.initial, null);
}

const activities = {
  off: 'dark',
  awake: 'boot',
  sendingAlert: 'alert',
  sendingHeartbeat: 'heartbeat',
  holding: 'hold',
} as const;

/** All that is remembered, as far as it is not nothing. */
function factsIn(memory: object): readonly string[] {
  return Object.entries<string | number | boolean>({ ...memory })
    .filter(([, value]) => value !== 0 && value !== false && value !== 'shut')
    .map(([name, value]) => (value === true ? name : `${name} ${String(value)}`));
}
