// A usage profile from a file, or a built-in one by its name.
import { ok, type Result } from '../../base/index.js';
import { check } from '../text/decode.js';
import { readDocument } from '../text/document.js';
import { inOrder } from '../text/in-order.js';
import { otherKind } from '../text/kind-of-file.js';
import type { UsageProfile } from '../types.js';
import { profileNamed, profileNames } from './built-in.js';
import { profileDefinition } from './definition.js';
import { openingsAYear } from './year-doors.js';

/** Names of the profiles that come with dozewatch. */
export const builtInProfiles: readonly string[] = profileNames;

/** The profile of this name that comes with dozewatch, or null. */
export function builtInProfile(name: string): UsageProfile | null {
  const found = profileNames.find((one) => one === name);
  return found === undefined ? null : profileNamed(found);
}

/**
 * Reads a usage profile, in YAML, or in JSON when its name ends in `.json`: what a scenario writes under
 * `generate: { profile: … }`.
 * @returns the profile; or all errors, each with its line. `profile-empty`: it expects no openings at all.
 */
export function parseProfile(text: string, file: string): Result<UsageProfile> {
  const document = readDocument(text, file);
  if (document.root === undefined) return { ok: false, errors: document.errors };
  const other = otherKind(document, 'usage profile');
  if (other !== null) return { ok: false, errors: [other] };
  const checked = check(profileDefinition, document.root, { document, path: [] });
  const errors = [...document.errors, ...(checked.ok ? [] : checked.errors)];
  if (!checked.ok || errors.length > 0) return { ok: false, errors: inOrder(errors) };
  if (openingsAYear(checked.value) > 0) return ok(checked.value);
  const { visits, days } = checked.value;
  const where =
    days !== undefined
      ? ['days']
      : visits === undefined
        ? ['openingsPerHour']
        : ['visits', 'perHour'];
  const empty = document.diagnose(where, {
    code: 'profile-empty',
    says: 'has no openings',
    expected: 'a rate above 0 in at least one hour, and weekdayFactor or weekendFactor above 0',
  });
  return { ok: false, errors: [empty] };
}
