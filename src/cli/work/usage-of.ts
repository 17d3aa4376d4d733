// How a door is used, as the options of `estimate` and `tune` say it: by a profile, or by a log that one is fitted to.
import type { UsageProfile } from '../../scenarios/index.js';
import type { Style } from '../commands/command.js';
import type { Io } from '../host/io.js';
import { fitLines } from '../present/profile-words.js';
import { problem } from '../problem.js';
import { loadProfile } from './load-profile.js';
import { fitted } from './profile.js';

export interface UsageOptions {
  readonly config?: string | undefined;
  readonly profile?: string | undefined;
  readonly profileFrom?: string | undefined;
  readonly zone?: string | undefined;
  readonly asLogged?: true | undefined;
}

export interface Usage {
  readonly profile: UsageProfile;
  /** As reports name it; of a fitted one also how well it fits. */
  readonly name: string;
}

/** Looks at the options before anything is read. @throws InputProblem when they tell of no use, or of two. */
export function checkUsage({ config, profile, profileFrom }: UsageOptions): void {
  if (profile !== undefined && profileFrom !== undefined) {
    throw problem('profile-twice', '--profile-from', {
      message: 'how the door is used is told twice: by a profile, and by a log',
      hint: 'keep one of --profile and --profile-from',
    });
  }
  const source = profile ?? profileFrom;
  if (source === undefined) throw missing();
  if (source === '-' && config === '-') {
    throw problem('standard-input-twice', '--profile', {
      message: 'standard input can be read only once, and the watch file comes from it',
      expected: 'the name of a profile or a file',
    });
  }
}

function missing() {
  return problem('profile-missing', '--profile', {
    message: 'nothing tells how the door is used',
    expected: '--profile with a name or a file, or --profile-from with a door log',
    hint: 'try --profile flower-store; estimate --help lists what comes along',
  });
}

/** @throws InputProblem when what the options name cannot be believed. */
export async function usageOf(
  { profile, profileFrom, zone, asLogged }: UsageOptions,
  on: { readonly io: Io; readonly style: Style; readonly leaveOpenAfterMs: number },
): Promise<Usage> {
  if (profile !== undefined) return { profile: await loadProfile(profile, on.io), name: profile };
  if (profileFrom === undefined) throw missing();
  const fit = await fitted(profileFrom, { zone, asLogged }, on);
  return { profile: fit.profile, name: `fitted to ${profileFrom}: ${fitLines(fit).join('; ')}` };
}
