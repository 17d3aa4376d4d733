// The certificate of one watch's bounds into a file.
import { counted, plain } from '../../base/index.js';
import { beyondCertificates, certificateText, TooManyStatesError } from '../../bounds/index.js';
import { clockErrorsOf } from '../../model/index.js';
import type { WatchFile } from '../../scenarios/index.js';
import { notReachedText } from '../../wording/index.js';
import type { Io } from '../host/io.js';
import { openProgress } from '../host/progress.js';
import { runSteps } from '../host/run-steps.js';
import { writeOutput } from '../host/write-output.js';
import { type InputProblem, problem } from '../problem.js';
import { boundsQuestion, type SearchTask } from './search.js';

/** What became of a certificate: what was written, in words, or why nothing was. */
export type CertificateOutcome =
  | { readonly kind: 'written'; readonly words: string }
  | { readonly kind: 'refused'; readonly problem: InputProblem };

/** @throws InputProblem where the file cannot be written. */
export async function writeCertificate(
  file: string,
  task: SearchTask,
  io: Io,
): Promise<CertificateOutcome> {
  const progress = openProgress(io, 'certifying');
  try {
    const steps = certificateText(boundsQuestion(task));
    const certified = await runSteps(steps, io, () => progress.at(null));
    if (certified.kind === 'not covered') {
      return { kind: 'refused', problem: tooLarge(certified.why, task) };
    }
    await writeOutput(file, [certified.text], io);
    const { notReached } = certified;
    const safe =
      notReached.length === 0 ? '' : `; no run reaches these bounds: ${notReachedText(notReached)}`;
    const words = `${plain(file)} (${counted(certified.states, 'state')}${safe})`;
    return { kind: 'written', words };
  } catch (error) {
    if (!(error instanceof TooManyStatesError)) throw error;
    const why = `a certificate covers at most ${counted(error.mostNodes, 'state')}`;
    return { kind: 'refused', problem: tooLarge(why, task) };
  } finally {
    progress.end();
  }
}

/** @throws InputProblem where it is clear before any search that nothing can be certified. */
export function refuseUncertifiable(task: SearchTask): void {
  const beyond = beyondCertificates(boundsQuestion(task));
  if (beyond !== null) throw notCovered(`a certificate cannot cover ${beyond}`);
}

function notCovered(why: string): InputProblem {
  return problem('not-certifiable', '--certificate', {
    message: `${why}; no certificate was written`,
    hint: 'leave out --certificate to get the bounds without one',
  });
}

/** The search is done by then, so the bounds are printed all the same. */
function tooLarge(why: string, { watchFile }: SearchTask): InputProblem {
  const ways = why.endsWith(' states') ? smallerBy(watchFile) : [];
  return problem('not-certifiable', '--certificate', {
    message: `${why}; no certificate was written`,
    hint:
      ways.length === 0
        ? 'the bounds are printed without one'
        : `the bounds hold without one; for a certificate, ${ways.join(', or ')}`,
  });
}

/** What of this watch file multiplies states, the most first. */
function smallerBy({ watch, timing, environment }: WatchFile): readonly string[] {
  const { longestOutageMs, powerLosses, resets, longestChatterMs } = environment;
  const errors = clockErrorsOf(timing.clockError);
  const ranges = [
    ['bootTime', timing.bootTime],
    ['connectTime', timing.connectTime],
    ['clockError', errors],
  ] as const;
  const wide = ranges.flatMap(([key, { least, most }]) => (least === most ? [] : [key]));
  return [
    ...(watch.heartbeatIntervalMs === null ? [] : ['leave out heartbeatInterval']),
    ...(watch.lowBattery === undefined ? [] : ['leave out lowBattery']),
    ...(longestOutageMs + powerLosses + resets + longestChatterMs === 0
      ? []
      : ['allow fewer faults (environment:)']),
    ...(wide.length === 0 ? [] : [`give narrower ranges of ${wide.join(' and ')}`]),
    ...(watch.escalationThreshold.outOf > 2 ? ['take a smaller escalationThreshold'] : []),
  ];
}
