// Properties of a device that is not the machine of the watch file, such as an owner's firmware.
import { counted, numberText, roundedDurationText } from '../../base/index.js';
import type { WatchSettings } from '../../machine/index.js';
import { type Program, simulate, type Trace } from '../../sim/index.js';
import { clockErrorRangeOf } from '../../world/index.js';
import type { Property, Ran } from '../question.js';
import { trialSeed } from '../trial.js';
import type { NamedProperty } from './index.js';
import {
  alertProperty,
  deliveredInTheEndProperty,
  lastDelivery,
  oneAlertPerCooldownProperty,
} from './named.js';

const keepsRunning = 'keeps-running';

const keepsRunningProperty: Property = {
  name: keepsRunning,
  promise: 'the firmware runs to the end of the timeline',
  breach({ stopped }) {
    return stopped === null ? null : { property: keepsRunning, subject: null, what: stopped };
  },
};

const sparesTheBattery = 'spares-the-battery';
/** The most time awake: this many times that of the watch file's own watch, plus a margin. */
const mostTimes = 4;
const mostMoreMs = 300_000;

function sparesTheBatteryProperty(program: Program): Property {
  return {
    name: sparesTheBattery,
    promise: 'the firmware is not awake much longer than the machine of the watch file',
    breach(ran) {
      const ownMs = awakeMs(ran.trace);
      // The machine takes time to run, and mostly there is no need to ask it.
      if (ownMs <= mostMoreMs) return null;
      const machine = machineTrace(ran, program);
      const watchMs = awakeMs(machine);
      if (ownMs <= mostTimes * watchMs + mostMoreMs) return null;
      return {
        property: sparesTheBattery,
        subject: null,
        what: `awake for ${roundedDurationText(ownMs)} in ${counted(wakesOf(ran.trace), 'wake')}, but the watch for only ${roundedDurationText(watchMs)} in ${numberText(wakesOf(machine))}`,
      };
    },
  };
}

const keepsItsHeartbeats = 'keeps-its-heartbeats';

/** One of each pair may come a little after the end of the timeline. @param intervalMs between heartbeats. */
function keepsItsHeartbeatsProperty(program: Program, intervalMs: number): Property {
  return {
    name: keepsItsHeartbeats,
    promise: 'the firmware tries at least half as many heartbeats as the machine of the watch file',
    breach(ran) {
      const own = heartbeatsOf(ran.trace);
      // The machine cannot try more than this, even by a fast clock, and takes time to ask.
      const { least } = clockErrorRangeOf(ran.trial.timing.clockError);
      const shortestMs = intervalMs * (1 + Math.min(0, least) / 1_000_000);
      if (2 * own >= Math.ceil(ran.world.lengthMs / shortestMs)) return null;
      const watch = heartbeatsOf(machineTrace(ran, program));
      if (watch < 2 || 2 * own >= watch) return null;
      return {
        property: keepsItsHeartbeats,
        subject: null,
        what: `${counted(own, 'heartbeat')}, but the watch tries ${numberText(watch)}`,
      };
    },
  };
}

/** With `hold-until-reset`: after a delivery nothing more is sent until reset. */
const holdsAfterItsAlertProperty = alertProperty(
  'holds-after-its-alert',
  'after an alert is delivered, no other is decided before a reset',
  (ran, index) => {
    const last = lastDelivery(ran, index);
    if (last === null || last.powerLostSince || last.resetSince) return null;
    return `an alert ${roundedDurationText(last.agoMs)} after the last delivery, without a reset in between`;
  },
);

function heartbeatsOf({ tally }: Trace): number {
  const { delivered, failed, cutOff } = tally.heartbeatSends;
  return delivered + failed + cutOff;
}

function machineTrace({ trial, world }: Ran, program: Program): Trace {
  const experiment = { program, timing: trial.timing, world, seed: trialSeed };
  return simulate(experiment, { record: 'none' });
}

function awakeMs({ tally }: Trace): number {
  const sendMs = tally.alertSendMs + tally.heartbeatSendMs + tally.lowBatterySendMs;
  return tally.bootMs + sendMs + tally.joinWaitMs + tally.heldMs;
}

function wakesOf({ tally: { wakes } }: Trace): number {
  return wakes['power-on'] + wakes.reset + wakes.timer + wakes.contact;
}

/** What a firmware must do besides the `judge:` section. */
export function deviceProperties(program: Program, watch: WatchSettings): readonly NamedProperty[] {
  const kept = watch.unsentWhenShut === 'send' ? [deliveredInTheEndProperty] : [];
  const holds = watch.afterAlert === 'hold-until-reset' ? [holdsAfterItsAlertProperty] : [];
  const { heartbeatIntervalMs } = watch;
  const beats =
    heartbeatIntervalMs === null ? [] : [keepsItsHeartbeatsProperty(program, heartbeatIntervalMs)];
  return [
    { property: keepsRunningProperty, about: [] },
    { property: oneAlertPerCooldownProperty, about: [] },
    ...holds.map((property) => ({ property, about: [] })),
    ...kept.map((property) => ({ property, about: ['outages'] as const })),
    { property: sparesTheBatteryProperty(program), about: [] },
    ...beats.map((property) => ({ property, about: [] })),
  ];
}
