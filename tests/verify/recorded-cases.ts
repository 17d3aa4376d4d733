// Watches of a few milliseconds, whose certificates are recorded in `recorded/`: small enough to be checked in hundredths of a
// second, and together they use every rule of the checker.
import { deviceMs } from '../../src/base/index.js';
import type { LowBatteryMessage, WatchSettings } from '../../src/machine/index.js';
import type { Environment, ResetMemory, TimingRanges } from '../../src/model/index.js';
import { rangesWith } from '../support/experiments.js';

export interface RecordedCase {
  readonly watch: Partial<WatchSettings>;
  readonly timing: TimingRanges;
  readonly reset: ResetMemory;
  readonly environment: Partial<Environment>;
}

const keeps = { button: 'keeps', watchdog: 'keeps', software: 'keeps' } as const;
const clears = { button: 'clears', watchdog: 'clears', software: 'clears' } as const;
const either = { button: 'keeps', watchdog: 'clears', software: 'keeps' } as const;
const unsaid = { button: null, watchdog: null, software: null } as const;

const quick: Partial<WatchSettings> = {
  checkIntervalMs: deviceMs(7),
  recheckIntervalMs: deviceMs(5),
  retryIntervalMs: deviceMs(4),
  alertCooldownMs: deviceMs(0),
  retryAttempts: 2,
};
const heartbeats = { heartbeats: true, heartbeatIntervalMs: deviceMs(17) };
const lowBattery: LowBatteryMessage = {
  level: { kind: 'share', sharePpm: 200_000 },
  repeatMs: deviceMs(10_000),
};

function caseOf(
  watch: Partial<WatchSettings>,
  environment: Partial<Environment> = {},
  device: { readonly timing?: TimingRanges; readonly reset?: ResetMemory } = {},
): RecordedCase {
  const timing = rangesWith({ bootMs: 1, connectMs: 2 });
  return { watch: { ...quick, ...watch }, timing, reset: keeps, ...device, environment };
}

export const recordedCases = {
  plain: caseOf({}),
  'times-that-vary': caseOf(
    { alertCooldownMs: deviceMs(12) },
    { longestOutageMs: 6 },
    { timing: rangesWith({ bootMs: [1, 3], connectMs: [2, 4] }) },
  ),
  'slow-clock': caseOf(
    { alertCooldownMs: deviceMs(12), ...heartbeats },
    {},
    { timing: rangesWith({ bootMs: 1, connectMs: 1, errorPpm: 150_000 }) },
  ),
  'clock-that-drifts': caseOf(
    { alertCooldownMs: deviceMs(12), ...heartbeats },
    {},
    { timing: rangesWith({ bootMs: 1, connectMs: 1, errorPpm: [-150_000, 150_000] }) },
  ),
  'waits-for-the-network': caseOf(
    { alertCooldownMs: deviceMs(12) },
    { longestOutageMs: 6, resets: 1 },
    { timing: rangesWith({ bootMs: 1, connectMs: 2, joinWaitMs: 3 }) },
  ),
  'waits-with-heartbeats': caseOf(
    heartbeats,
    { longestOutageMs: 6 },
    { timing: rangesWith({ bootMs: 1, connectMs: 1, joinWaitMs: 3 }) },
  ),
  'waits-with-low-battery': caseOf(
    { lowBattery },
    { longestOutageMs: 4, outages: 2, outagesApartMs: 5 },
    { timing: rangesWith({ bootMs: 1, connectMs: 1, joinWaitMs: 9 }) },
  ),
  'long-cooldown': caseOf({ alertCooldownMs: deviceMs(25), cooldownEndsWhenShut: false }),
  'two-outages': caseOf({}, { longestOutageMs: 6, outages: 2, outagesApartMs: 7 }),
  'dropped-alerts': caseOf({ unsentWhenShut: 'drop' }, { longestOutageMs: 9 }),
  'dropped-in-chatter': caseOf(
    { unsentWhenShut: 'drop' },
    { longestOutageMs: 6, outagesApartMs: 9, longestChatterMs: 5 },
    { timing: rangesWith({ bootMs: 1, connectMs: 2, errorPpm: [-150_000, 150_000] }) },
  ),
  'no-time-to-boot': caseOf(
    {},
    { longestOutageMs: 6 },
    { timing: rangesWith({ bootMs: 0, connectMs: 0 }) },
  ),
  'low-battery-and-heartbeats': caseOf(
    { lowBattery, heartbeats: true, heartbeatIntervalMs: deviceMs(7), retryAttempts: 1 },
    { powerLosses: 1, longestPowerLossMs: 1 },
  ),
  chatter: caseOf({ clearThreshold: 2 }, { longestChatterMs: 9 }),
  'low-battery': caseOf({ lowBattery, wakeOn: 'any-change' }, { longestOutageMs: 5 }),
  'woken-by-openings': caseOf({ wakeOn: 'opening', alertCooldownMs: deviceMs(12) }, { resets: 1 }),
  'woken-by-changes': caseOf({
    wakeOn: 'any-change',
    heartbeats: true,
    heartbeatIntervalMs: deviceMs(7),
  }),
  'power-loss': caseOf({}, { powerLosses: 1, longestPowerLossMs: 3, resets: 1 }),
  'resets-either-way': caseOf({ alertCooldownMs: deviceMs(12) }, { resets: 1 }, { reset: either }),
  'clearing-resets': caseOf({}, { resets: 1 }, { reset: clears }),
  'resets-not-said': caseOf({ unsentWhenShut: 'drop' }, { resets: 1 }, { reset: unsaid }),
  holding: caseOf({ afterAlert: 'hold-until-reset' }, { resets: 1 }),
  'three-of-five': caseOf({ escalationThreshold: { open: 3, outOf: 5 }, clearThreshold: 2 }),
} as const satisfies Readonly<Record<string, RecordedCase>>;

export type RecordedName = keyof typeof recordedCases;
