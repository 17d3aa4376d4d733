// The certificate of one watch's bounds into a file.
import { counted, plain } from '../../base/index.js';
import { beyondCertificates, certificateText, TooManyStatesError } from '../../bounds/index.js';
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
      return { kind: 'refused', problem: tooLarge(certified.why) };
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
    return { kind: 'refused', problem: tooLarge(why) };
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
function tooLarge(why: string): InputProblem {
  const isSize = why.endsWith(' states');
  return problem('not-certifiable', '--certificate', {
    message: `${why}; no certificate was written`,
    hint: isSize
      ? 'the bounds hold without one; for a certificate, allow fewer faults (environment:), narrower ranges of bootTime, connectTime and clockError, or a smaller escalationThreshold'
      : 'the bounds are printed without one',
  });
}
