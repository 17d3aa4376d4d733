// How the door is used: a profile of the package, with its rates scaled to what is set.

import { err, ok, type Result } from '../base/index.js';
import { mostOpeningsADay } from '../model/index.js';
import {
  builtInProfile,
  openingsAYear,
  parseShare,
  type Scenario,
  type UsageProfile,
} from '../scenarios/index.js';
import type { PlannerState } from './state.js';

/** Fields that are no keys of the watch file begin so. */
export const usagePrefix = 'usage.';
const perDayKey = 'usage.openingsPerDay';
const shareKey = 'usage.leaveOpenShare';

const daysAYear = 365;

/** What is set of how the door is used. */
export function usageIn({ set }: PlannerState): PlannerState['set'] {
  return Object.fromEntries(Object.entries(set).filter(([key]) => key.startsWith(usagePrefix)));
}

/** Null: as the profile has it. */
export interface Usage {
  readonly openingsPerDay: number | null;
  readonly leaveOpenShare: number | null;
}

export function usageOf({ set }: PlannerState): Result<Usage> {
  const perDay = readPerDay((set[perDayKey] ?? '').trim());
  const share = readShare((set[shareKey] ?? '').trim());
  if (!perDay.ok) return share.ok ? perDay : err(...perDay.errors, ...share.errors);
  return share.ok ? ok({ openingsPerDay: perDay.value, leaveOpenShare: share.value }) : share;
}

function readPerDay(text: string): Result<number | null> {
  if (text === '') return ok(null);
  const wrong = { severity: 'error', source: { file: perDayKey }, found: text } as const;
  const expected = `a number from 0 to ${String(mostOpeningsADay)}, such as 25`;
  if (!/^\d+(?:\.\d+)?$/u.test(text)) {
    return err({ ...wrong, code: 'number-unreadable', message: 'is not a number', expected });
  }
  const value = Number(text);
  if (value <= mostOpeningsADay) return ok(value);
  return err({ ...wrong, code: 'out-of-range', message: 'is out of range', expected });
}

function readShare(text: string): Result<number | null> {
  return text === '' ? ok(null) : parseShare(text, { file: shareKey }, { least: 0, most: 1 });
}

/** What stands in a field that is not set. */
export function usualUsage(name: string): Readonly<Record<string, string>> {
  const profile = builtInProfile(name);
  if (profile === null) return {};
  const share = Number((100 * (profile.leaveOpen?.share ?? 0)).toFixed(2));
  return {
    [perDayKey]: String(Number(openingsADay(profile).toFixed(1))),
    [shareKey]: `${String(share)}%`,
  };
}

function openingsADay(profile: UsageProfile): number {
  return openingsAYear(profile) / daysAYear;
}

/** A profile with its rates scaled: hours and week-ends keep their shape. */
export function scaled(profile: UsageProfile, usage: Usage): UsageProfile {
  const { openingsPerDay, leaveOpenShare } = usage;
  const { openingsPerHour, leaveOpen } = profile;
  const factor = openingsPerDay === null ? 1 : openingsPerDay / openingsADay(profile);
  return {
    ...profile,
    openingsPerHour: openingsPerHour.map((rate) => rate * factor),
    leaveOpen:
      leaveOpen === null || leaveOpenShare === null
        ? leaveOpen
        : { ...leaveOpen, share: leaveOpenShare },
  };
}

/** A scenario whose door is drawn from a profile, with that profile scaled. */
export function withUsage(scenario: Scenario, usage: Usage): Scenario {
  const { generate } = scenario;
  if (generate === null) return scenario;
  return { ...scenario, generate: { ...generate, profile: scaled(generate.profile, usage) } };
}

/** The scaled profile of years of use; null: its name is not known. */
export function profileOf(state: PlannerState, usage: Usage): UsageProfile | null {
  const profile = builtInProfile(state.profile);
  return profile === null ? null : scaled(profile, usage);
}
