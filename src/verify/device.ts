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
export type Activity =
  | 'dark'
  | 'boot'
  | 'alert'
  | 'heartbeat'
  | 'lowBattery'
  | SleepInterval
  | 'hold';

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
  const devices = new Map<string, Device>();
  const deviceAt = (snapshot: WatchSnapshot, falls: SleepInterval | null): Device => {
    const phase = logic.phase(snapshot);
    const activity = phase === 'asleep' ? falls : activities[phase];
    invariant(activity !== null, 'a device falls asleep for an interval', { phase });
    const { retained, thisWake } = snapshot.context;
    const name = [activity, ...factsIn({ ...retained, ...thisWake })].join(', ');
    const reactions = new Map<string, Reaction>();
    const react = (input: DeviceInput): Reaction => {
      const { state, effects } = logic.react(snapshot, input);
      const sleep = effects.find((effect) => effect.type === 'sleep');
      const does = new Set(effects.map(({ type }) => type));
      const device = deviceAt(state, sleep?.interval ?? null);
      return { device, decides: does.has('decideAlert'), drops: does.has('dropAlert') };
    };
    return kept(devices, name, () => ({
      ...{ name, activity, coolingDown: logic.memory(snapshot).coolingDown },
      react: (input) => kept(reactions, Object.values(input).join(), () => react(input)),
    }));
  };
  return deviceAt(logic.initial, null);
}

const activities = {
  off: 'dark',
  awake: 'boot',
  sendingAlert: 'alert',
  sendingHeartbeat: 'heartbeat',
  sendingLowBattery: 'lowBattery',
  holding: 'hold',
} as const;

function kept<T>(known: Map<string, T>, key: string, make: () => T): T {
  const item = known.get(key) ?? make();
  known.set(key, item);
  return item;
}

/** All that is remembered, as far as it is not nothing. */
function factsIn(memory: object): readonly string[] {
  return Object.entries<string | number | boolean>({ ...memory })
    .filter(([, value]) => value !== 0 && value !== false && value !== 'shut')
    .map(([name, value]) => (value === true ? name : `${name} ${String(value)}`));
}
