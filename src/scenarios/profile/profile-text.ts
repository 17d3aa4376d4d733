// A usage profile as the text of a file of its own.
import { stringify } from 'yaml';
import { profileEntry } from '../scenario/scenario-text.js';
import type { UsageProfile } from '../types.js';

/**
 * The text of a profile file; `parseProfile` gives the profile back.
 * @param comment written above it, a line each.
 */
export function profileText(profile: UsageProfile, comment: readonly string[]): string {
  const heading = comment.map((line) => `# ${line.replaceAll(/\s+/g, ' ')}\n`).join('');
  return heading + stringify(profileEntry(profile), { version: '1.2', collectionStyle: 'any' });
}
