// The device itself: the watch's statechart, stepped by XState's own pure transition. Each reaction is asked for once.
import { invariant } from '../base/index.js';
import {
  type DeviceInput,
  type LogicSettings,
  type SleepInterval,
  type WatchSnapshot,
  watchLogic,
} from '../machine/index.js';

/** What the device is at: without power, on its way to a check, sending, waiting for the network, asleep, or awake until a reset. */
export type Activity =
  | 'dark'
  | 'boot'
  | 'alert'
  | 'heartbeat'
  | 'lowBattery'
  | Wait
  | SleepInterval
  | 'hold';

/** Awake in a send whose connect time is over, without the network. */
export type Wait = 'alert waits' | 'heartbeat waits' | 'lowBattery waits';

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
      name,
      activity,
      coolingDown: logic.memory(snapshot).coolingDown,
      react: (input) => kept(reactions, Object.values(input).join(), () => react(input)),
    }));
  };
  return deviceAt(logic.initial, null);
}

/** A device that sends, and waits for the network from here on: the statechart knows nothing of it. */
export function waiting(device: Device): Device {
  const { name, activity } = device;
  const waits = isSend(activity) ? (`${activity} waits` as const) : null;
  invariant(waits !== null, 'only a send waits for the network', { name });
  // One object for each: states are compared by it.
  const waiter = waiters.get(device) ?? {
    ...device,
    name: name.replace(activity, waits),
    activity: waits,
  };
  waiters.set(device, waiter);
  return waiter;
}

const waiters = new WeakMap<Device, Device>();

type Send = 'alert' | 'heartbeat' | 'lowBattery';

export function isSend(activity: Activity): activity is Send {
  return activity === 'alert' || activity === 'heartbeat' || activity === 'lowBattery';
}

const sendThatWaits: Readonly<Partial<Record<Activity, Send>>> = {
  'alert waits': 'alert',
  'heartbeat waits': 'heartbeat',
  'lowBattery waits': 'lowBattery',
};

/** What a waiting device sends; null: it does not wait. */
export function sendWaiting({ activity }: Device): Send | null {
  return sendThatWaits[activity] ?? null;
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
