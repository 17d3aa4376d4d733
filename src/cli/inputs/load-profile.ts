// A usage profile: one that comes along, by its name, or from a file.
import {
  builtInProfile,
  builtInProfiles,
  parseProfile,
  type UsageProfile,
} from '../../scenarios/index.js';
import type { Io } from '../host/io.js';
import { readText } from '../host/read-text.js';
import { InputProblem, problem, valueOf } from '../problem.js';

/** @throws InputProblem when there is none of that name, or its file cannot be believed. */
export async function loadProfile(name: string, io: Io): Promise<UsageProfile> {
  const builtIn = builtInProfile(name);
  if (builtIn !== null) return builtIn;
  let text = '';
  try {
    text = await readText(name, io);
  } catch (error) {
    const missing = error instanceof InputProblem && error.diagnostics[0]?.code === 'file-missing';
    if (!missing) throw error;
    throw problem('profile-unknown', '--profile', {
      message: 'no profile that comes along has this name, and there is no such file',
      found: name,
      expected: `${builtInProfiles.join(', ')}, or a file`,
    });
  }
  return valueOf(parseProfile(text, name));
}
