// A watch file's text becomes settings, or a list of all that is wrong with it.
import type * as z from 'zod';
import { type Diagnostic, deviceMs, invariant, ok, type Result } from '../../base/index.js';
import type { LowBatteryLevel, WatchSettings } from '../../machine/index.js';
import { type Environment, isCompilable, mostAttempts, settings } from '../../model/index.js';
import { check } from '../text/decode.js';
import { type Path, readDocument, type TextDocument } from '../text/document.js';
import { inOrder } from '../text/in-order.js';
import { otherKind } from '../text/kind-of-file.js';
import type { Problem } from '../text/problem.js';
import type { WatchFile } from '../types.js';
import { answerSettings } from './answer-fields.js';
import { filled, watchDefinition } from './definition.js';
import { emptyDocument, overlaid, type WatchOverride } from './overrides.js';
import { supplySettings } from './supply.js';
import { findContradictions } from './warnings.js';

type Given = z.output<typeof watchDefinition>;

/**
 * Reads a watch file, in YAML, or in JSON when its name ends in `.json`.
 * @param text null: there is no file, and the overrides stand alone.
 * @param file names it in messages.
 * @param overrides settings in place of the file's.
 * @returns the settings, with warnings about those that cancel each other; or all errors, each with its line.
 */
export function parseWatchFile(
  text: string | null,
  file: string,
  overrides: readonly WatchOverride[] = [],
): Result<WatchFile> {
  const document = overlaid(
    text === null ? emptyDocument(file) : readDocument(text, file),
    overrides,
  );
  if (document.root === undefined) return { ok: false, errors: document.errors };
  const other = otherKind(document, 'watch file');
  if (other !== null) return { ok: false, errors: [other] };
  const checked = check(watchDefinition, document.root, { document, path: [] });
  const errors = [...document.errors, ...(checked.ok ? [] : checked.errors)];
  if (!checked.ok || errors.length > 0) return { ok: false, errors: inOrder(errors) };
  const watchFile = settingsOf(checked.value);
  const tooMany = stateCountFault(watchFile.watch);
  if (tooMany !== null) {
    return {
      ok: false,
      errors: [document.diagnose(['watch', 'escalationThreshold'], tooMany)],
    };
  }
  return ok(watchFile, warningsIn(document, watchFile));
}

/** What an owner gets who sets nothing. */
export function defaultWatchFile(): WatchFile {
  const checked = watchDefinition.safeParse({});
  invariant(checked.success, 'the defaults are in order');
  return settingsOf(checked.data);
}

function warningsIn(document: TextDocument, watchFile: WatchFile): readonly Diagnostic[] {
  const isGiven = (path: Path): boolean => {
    let here: unknown = document.root;
    for (const step of path) here = isRecord(here) ? here[step] : undefined;
    return here !== undefined;
  };
  return findContradictions(watchFile, isGiven).map((contradiction) => {
    const { path } = contradiction;
    return isGiven(path)
      ? document.warn(path, contradiction)
      : document.warn(path.slice(0, 1), { ...contradiction, found: '' });
  });
}

function isRecord(value: unknown): value is Record<string | number, unknown> {
  return typeof value === 'object' && value !== null;
}

function settingsOf(given: Given): WatchFile {
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

/** The error for settings whose table would be too large, or null. */
function stateCountFault(watch: WatchSettings): Problem | null {
  if (isCompilable(watch)) return null;
  const attempts = mostAttempts(watch);
  const fewer = attempts < 1 ? '' : `make retry.attempts at most ${String(attempts)}, or `;
  return {
    code: 'too-many-states',
    says: `has too many states together with clearThreshold ${String(watch.clearThreshold)} and retry.attempts ${String(watch.retryAttempts)}`,
    hint: `${fewer}lower outOf or clearThreshold`,
  };
}
