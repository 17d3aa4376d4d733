// How a door is used, by the options of `estimate` and `tune`: a profile, or a log that a profile is fitted to.
import {
  counted,
  type Diagnostic,
  durationText,
  nameOfFile,
  roughDurationText,
  shellWord,
} from '../../base/index.js';
import {
  builtInProfile,
  builtInProfiles,
  didYouMean,
  evidenceOf,
  isFittedElsewhere,
  otherKindOfText,
  parseProfile,
  type Timeline,
  type UsageProfile,
  type WatchFile,
} from '../../scenarios/index.js';
import { type LogOptions, onlyForLogs } from '../arguments/timeline-options.js';
import type { Style } from '../command.js';
import type { Io } from '../host/io.js';
import { readText } from '../host/read-text.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { paintFor } from '../layout/paint.js';
import { InputProblem, problem, valueOf } from '../problem.js';
import { fitted } from '../profile/run.js';

export interface UsageOptions extends LogOptions {
  readonly config?: string | undefined;
  readonly profile?: string | undefined;
  readonly profileFrom?: string | undefined;
  readonly asLogged?: true | undefined;
}

export interface Usage {
  readonly profile: UsageProfile;
  /** As reports name it; of a fitted one also how much log there was. */
  readonly name: string;
  /** The log that the profile is fitted to; absent: none. */
  readonly log?: Timeline;
}

const asLoggedOption = ['asLogged', '--as-logged'] as const;

/** Checks the options before anything is read. @throws InputProblem for two usages. */
export function checkUsage(options: UsageOptions): void {
  const { config, profile, profileFrom } = options;
  if (profile !== undefined && profileFrom !== undefined) {
    throw problem('profile-twice', '--profile-from', {
      message: 'the usage of the door is given twice: as a profile, and as a log',
      hint: 'leave out --profile or --profile-from',
    });
  }
  const given = [...onlyForLogs, asLoggedOption].find(([key]) => options[key] !== undefined);
  if (given !== undefined && profileFrom === undefined) {
    throw problem('option-for-logs', given[1], {
      message: 'this option is for a door log, and no log is given',
      hint: 'give the log with --profile-from',
    });
  }
  if ((profile ?? profileFrom) === '-' && config === '-') {
    throw problem('standard-input-twice', '--profile', {
      message: 'standard input can be read only once, and the watch file already comes from it',
      expected: 'the name of a profile or a file',
    });
  }
}

/** The profile without any option, with a warning. */
const usualProfile = 'flower-store';

const assumed: Diagnostic = {
  code: 'profile-assumed',
  severity: 'warning',
  source: { file: '--profile' },
  message: `no profile is given, so the door is used as in the invented profile ${usualProfile}`,
  hint: `give --profile (${builtInProfiles.join(', ')}, or a file), or fit one to a log: --profile-from doors.csv`,
};

/** @throws InputProblem when what the options name cannot be believed. */
export async function usageOf(
  options: UsageOptions,
  on: {
    readonly io: Io;
    readonly style: Style;
    readonly leaveOpenAfterMs: number;
    /** For the contact of a log. */
    readonly watchFile?: WatchFile;
  },
): Promise<Usage> {
  const { profile, profileFrom } = options;
  if (profile !== undefined) {
    const usage = { profile: await loadProfile(profile, on.io), name: profile };
    const warnings = fittedElsewhere(usage, options.config, on.leaveOpenAfterMs);
    await writeDiagnostics(warnings, { io: on.io, paint: paintFor('stderr', on), most: 1 });
    return usage;
  }
  if (profileFrom === undefined) {
    await writeDiagnostics([assumed], { io: on.io, paint: paintFor('stderr', on), most: 1 });
    return { profile: await loadProfile(usualProfile, on.io), name: usualProfile };
  }
  // The seed of an estimate is of its years: a log draws nothing.
  const { fit, timeline } = await fitted(profileFrom, { ...options, seed: undefined }, on);
  const how = options.asLogged === true ? 'days of' : 'fitted to';
  const log = `${counted(fit.openings, 'opening')} in ${roughDurationText(fit.seenMs)}`;
  return {
    profile: fit.profile,
    name: `${how} ${nameOfFile(profileFrom)} (${log})`,
    log: timeline,
  };
}

/** A profile that was fitted with another `leaveOpenAfter` than the watch file's. */
function fittedElsewhere(
  { profile, name }: Usage,
  config: string | undefined,
  leaveOpenAfterMs: number,
): readonly Diagnostic[] {
  const { fitted } = profile;
  if (fitted === undefined || !isFittedElsewhere(profile, leaveOpenAfterMs)) return [];
  const many = evidenceOf(profile, leaveOpenAfterMs)?.leaveOpens ?? 0;
  const here = durationText(leaveOpenAfterMs);
  const watch = config === undefined ? '' : ` -c ${shellWord(config)}`;
  return [
    {
      code: 'profile-fitted-otherwise',
      severity: 'warning',
      source: { file: name },
      message: `this profile was fitted with ${durationText(fitted.leaveOpenAfterMs ?? 0)} as leaveOpenAfter (${counted(fitted.leaveOpens, 'leave-open')} in its log), and here it is ${here}: by the lengths that the profile has, its log has ${many === 0 ? 'none' : `about ${String(many)}`} of them, and the intervals are as wide as so few allow`,
      hint: `fit it again: dozewatch profile LOG${watch}, with the log that it was fitted to`,
    },
  ];
}

/** By its name, or by a first line of several columns, as no profile begins. */
function isDoorLog(text: string, name: string): boolean {
  const [first = ''] = text.split('\n', 1);
  return /\.(?:csv|tsv|ndjson)$/iu.test(name) || (/[,;\t]/u.test(first) && !/[:{#]/u.test(first));
}

/** @throws InputProblem when there is no such profile, or its file has errors. */
export async function loadProfile(name: string, io: Io): Promise<UsageProfile> {
  const builtIn = builtInProfile(name);
  if (builtIn !== null) return builtIn;
  let text = '';
  try {
    text = await readText(name, io);
  } catch (error) {
    const missing = error instanceof InputProblem && error.diagnostics[0]?.code === 'file-missing';
    if (!missing) throw error;
    const hint = didYouMean(name, builtInProfiles);
    throw problem('profile-unknown', '--profile', {
      message: 'this is neither a built-in profile nor a file',
      found: name,
      expected: `${builtInProfiles.join(', ')}, or the name of a file`,
      ...(hint === undefined ? {} : { hint }),
    });
  }
  const result = parseProfile(text, name);
  if (!result.ok && isDoorLog(text, name)) {
    const option = '--profile';
    const other = otherKindOfText(text, { file: name, wanted: 'usage profile', option });
    if (other !== null && other.kind !== 'door log') throw new InputProblem([other]);
    throw problem('profile-is-log', '--profile', {
      message: 'this is a door log, not a profile',
      found: name,
      hint: `have a profile fitted to it: --profile-from ${shellWord(name)}`,
    });
  }
  return valueOf(result);
}
