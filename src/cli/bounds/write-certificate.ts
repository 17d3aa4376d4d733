// The certificate of one watch's bounds into a file.
import { counted, plain } from '../../base/index.js';
import { beyondCertificates, certificateText, TooManyStatesError } from '../../bounds/index.js';
import type { Io } from '../host/io.js';
import { openProgress } from '../host/progress.js';
import { runSteps } from '../host/run-steps.js';
import { writeOutput } from '../host/write-output.js';
import { type InputProblem, problem } from '../problem.js';
import { boundsQuestion, type SearchTask } from './search.js';

/**
 * @returns what was written, in words.
 * @throws InputProblem where nothing can be certified, or the file cannot be written.
 */
export async function writeCertificate(file: string, task: SearchTask, io: Io): Promise<string> {
  const progress = openProgress(io, 'certifying');
  try {
    const steps = certificateText(boundsQuestion(task));
    const certified = await runSteps(steps, io, () => progress.at(null));
    if (certified.kind === 'not covered') throw notCovered(certified.why);
    await writeOutput(file, [certified.text], io);
    const { notReached } = certified;
    const safe =
      notReached.length === 0 ? '' : `; no run reaches these bounds: ${notReached.join(', ')}`;
    return `${plain(file)} (${counted(certified.states, 'state')}${safe})`;
  } catch (error) {
    if (!(error instanceof TooManyStatesError)) throw error;
    throw notCovered(`a certificate covers at most ${counted(error.mostNodes, 'state')}`);
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
    hint: `leave out --certificate to get the bounds without one${why.endsWith(' states') ? '; fewer faults in environment, or narrower ranges of bootTime, connectTime and clockError, need fewer states' : ''}`,
  });
}
