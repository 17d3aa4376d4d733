// The values of a watch file as the parts of the tree take them, and back to the rows of the table.
import type * as z from 'zod';
import { deviceMs } from '../../base/index.js';
import type { LowBatteryLevel, WatchSettings } from '../../machine/index.js';
import {
  type Environment,
  type Kind,
  type Row,
  type Setting,
  settingOf,
  settings,
  type ValueOfKind,
} from '../../model/index.js';
import type { WatchFile } from '../types.js';
import { answerSettings } from './answer-fields.js';
import { filled, type watchDefinition } from './definition.js';
import { supplySettings } from './supply.js';

type Given = z.output<typeof watchDefinition>;

/** What a run, a proof and a judgement take of the values of a file. */
export function carried(given: Given): WatchFile {
  const { device, judge, contact, supply } = given;
  return {
    watch: watchSettings(given.watch),
    timing: {
      bootTime: device.bootTime,
      connectTime: device.connectTime,
      joinWaitMs: device.joinWait,
      clockError: device.clockError,
    },
    judge: {
      leaveOpenAfterMs: judge.leaveOpenAfter,
      reportWithinMs: judge.reportWithin ?? null,
      quietUpToMs: judge.quietUpTo ?? null,
    },
    contact:
      contact === undefined
        ? null
        : {
            operateGapUm: contact.operateGap,
            releaseGapUm: contact.releaseGap,
            bounceMs: contact.bounceTime,
          },
    sealGapUm: given.door.sealGap,
    opensAtLeastUm: given.door.opensAtLeast ?? null,
    reset: {
      button: device.reset.button ?? null,
      watchdog: device.reset.watchdog ?? null,
      software: device.reset.software ?? null,
    },
    supply: supply === undefined ? null : supplySettings(supply),
    answer: answerSettings(given.answer),
    delivery: { lostPpm: given.delivery.lost, seenAfterMs: given.delivery.seenAfter },
    environment: environmentOf(given.environment),
  };
}

function watchSettings(given: Given['watch']): WatchSettings {
  const { heartbeatInterval, retry, recheckInterval } = filled(settings.watch, given);
  return {
    escalationThreshold: given.escalationThreshold,
    clearThreshold: given.clearThreshold,
    cooldownEndsWhenShut: given.cooldownEndsWhenShut,
    afterAlert: given.afterAlert,
    retryAttempts: retry.attempts,
    unsentWhenShut: given.unsentWhenShut,
    heartbeats: heartbeatInterval !== null,
    checkIntervalMs: deviceMs(given.checkInterval),
    recheckIntervalMs: deviceMs(recheckInterval),
    retryIntervalMs: deviceMs(retry.interval),
    alertCooldownMs: deviceMs(given.alertCooldown),
    wakeOn: given.wakeOn,
    heartbeatIntervalMs: heartbeatInterval === null ? null : deviceMs(heartbeatInterval),
    ...lowBatteryOf(given.lowBattery),
  };
}

function lowBatteryOf(given: Given['watch']['lowBattery']): Pick<WatchSettings, 'lowBattery'> {
  if (given === undefined) return {};
  const { at, atVoltage, repeat } = given;
  const level: LowBatteryLevel =
    at === undefined
      ? { kind: 'voltage', voltageMv: atVoltage ?? 0 }
      : { kind: 'share', sharePpm: at };
  return { lowBattery: { level, repeatMs: deviceMs(repeat) } };
}

function environmentOf(given: Given['environment']): Environment {
  const all = filled(settings.environment, given);
  return {
    outages: all.outages,
    outagesApartMs: all.outagesApart,
    longestOutageMs: all.longestOutage,
    powerLosses: all.powerLosses,
    longestPowerLossMs: all.powerLossLasting,
    resets: all.resets,
    longestChatterMs: all.longestChatter,
  };
}

/** A setting with its value; undefined: it is absent. */
export interface SettingValue<K extends Kind> {
  readonly setting: Setting;
  readonly kind: K;
  readonly value: Unbranded<ValueOfKind[K]> | undefined;
}

/** Lengths count on either clock. */
export type Unbranded<Of> = Of extends number ? number : Of;

function valueOf<K extends Kind>(row: Row<K>, value: SettingValue<K>['value']): SettingValue<K> {
  return { setting: settingOf(row), kind: row.kind, value };
}

/** The values of all settings on which bounds depend. */
export function boundValues(file: WatchFile) {
  return [
    ...watchValues(file.watch),
    ...deviceValues(file),
    ...judgeValues(file),
    ...contactValues(file),
    ...environmentValues(file.environment),
  ] as const;
}

function watchValues(watch: WatchSettings) {
  const { retry, lowBattery, ...keys } = settings.watch.keys;
  const level = watch.lowBattery?.level;
  return [
    valueOf(keys.checkInterval, watch.checkIntervalMs),
    valueOf(keys.recheckInterval, watch.recheckIntervalMs),
    valueOf(keys.escalationThreshold, watch.escalationThreshold),
    valueOf(keys.clearThreshold, watch.clearThreshold),
    valueOf(keys.alertCooldown, watch.alertCooldownMs),
    valueOf(keys.cooldownEndsWhenShut, watch.cooldownEndsWhenShut),
    valueOf(keys.afterAlert, watch.afterAlert),
    valueOf(retry.keys.interval, watch.retryIntervalMs),
    valueOf(retry.keys.attempts, watch.retryAttempts),
    valueOf(keys.unsentWhenShut, watch.unsentWhenShut),
    valueOf(keys.wakeOn, watch.wakeOn),
    valueOf(keys.heartbeatInterval, watch.heartbeatIntervalMs),
    valueOf(lowBattery.keys.at, level?.kind === 'share' ? level.sharePpm : undefined),
    valueOf(lowBattery.keys.atVoltage, level?.kind === 'voltage' ? level.voltageMv : undefined),
    valueOf(lowBattery.keys.repeat, watch.lowBattery?.repeatMs),
  ] as const;
}

function deviceValues({ timing, reset }: WatchFile) {
  const { keys } = settings.device;
  return [
    valueOf(keys.bootTime, timing.bootTime),
    valueOf(keys.connectTime, timing.connectTime),
    valueOf(keys.joinWait, timing.joinWaitMs),
    valueOf(keys.clockError, timing.clockError),
    valueOf(keys.reset.keys.button, reset.button ?? undefined),
    valueOf(keys.reset.keys.watchdog, reset.watchdog ?? undefined),
    valueOf(keys.reset.keys.software, reset.software ?? undefined),
  ] as const;
}

function judgeValues({ judge }: WatchFile) {
  const { keys } = settings.judge;
  return [
    valueOf(keys.leaveOpenAfter, judge.leaveOpenAfterMs),
    valueOf(keys.reportWithin, judge.reportWithinMs ?? undefined),
    valueOf(keys.quietUpTo, judge.quietUpToMs ?? undefined),
  ] as const;
}

function contactValues({ contact, sealGapUm, opensAtLeastUm }: WatchFile) {
  const { keys } = settings.contact;
  return [
    valueOf(keys.operateGap, contact?.operateGapUm),
    valueOf(keys.releaseGap, contact?.releaseGapUm),
    valueOf(keys.bounceTime, contact?.bounceMs),
    valueOf(settings.door.keys.sealGap, sealGapUm),
    valueOf(settings.door.keys.opensAtLeast, opensAtLeastUm ?? undefined),
  ] as const;
}

function environmentValues(environment: Environment) {
  const { keys } = settings.environment;
  return [
    valueOf(keys.longestOutage, environment.longestOutageMs),
    valueOf(keys.outages, environment.outages),
    valueOf(keys.outagesApart, environment.outagesApartMs),
    valueOf(keys.powerLosses, environment.powerLosses),
    valueOf(keys.powerLossLasting, environment.longestPowerLossMs),
    valueOf(keys.resets, environment.resets),
    valueOf(keys.longestChatter, environment.longestChatterMs),
  ] as const;
}
