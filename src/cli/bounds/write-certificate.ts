// The certificate of one watch's bounds into a file.
import { counted, listText, plain, roundedDurationText } from '../../base/index.js';
import {
  beyondCertificates,
  type Certified,
  certificateText,
  type Known,
  type SmallerProof,
  smallerProof,
  TooManyStatesError,
} from '../../bounds/index.js';
import { notReachedText } from '../../wording/index.js';
import type { Io } from '../host/io.js';
import { openProgress } from '../host/progress.js';
import { runSteps } from '../host/run-steps.js';
import { writeOutput } from '../host/write-output.js';
import { type InputProblem, problem } from '../problem.js';
import { boundsQuestion, type SearchTask } from './search.js';

/** From which length on every opening is reported, as the search found it. */
type Proved = Known['alwaysReportedFromMs'];

/** What became of a certificate: what was written, in words, or why nothing was. */
export type CertificateOutcome =
  | { readonly kind: 'written'; readonly words: string }
  | { readonly kind: 'refused'; readonly problem: InputProblem };

/** @throws InputProblem where the file cannot be written. */
export async function writeCertificate(
  file: string,
  on: { readonly task: SearchTask; readonly proved: Proved; readonly io: Io },
): Promise<CertificateOutcome> {
  const certified = await certify(on.task, on.io);
  if (certified.kind === 'not covered') {
    return { kind: 'refused', problem: await tooLarge(certified.why, on) };
  }
  await writeOutput(file, [certified.text], on.io);
  const { notReached } = certified;
  const safe =
    notReached.length === 0 ? '' : `; no run reaches these bounds: ${notReachedText(notReached)}`;
  const words = `${plain(file)} (${counted(certified.states, 'state')}${safe})`;
  return { kind: 'written', words };
}

async function certify(task: SearchTask, io: Io): Promise<Certified> {
  const progress = openProgress(io, 'certifying');
  try {
    return await runSteps(certificateText(boundsQuestion(task)), io, () => progress.at(null));
  } catch (error) {
    if (!(error instanceof TooManyStatesError)) throw error;
    const why = `a certificate covers at most ${counted(error.mostNodes, 'state')}`;
    return { kind: 'not covered', why };
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
async function tooLarge(
  why: string,
  { task, proved, io }: { readonly task: SearchTask; readonly proved: Proved; readonly io: Io },
): Promise<InputProblem> {
  const smaller = why.endsWith(' states') ? await smallerOf(task, io) : null;
  return problem('not-certifiable', '--certificate', {
    message: `${why}; no certificate was written`,
    hint:
      smaller === null
        ? 'the bounds are printed without one'
        : `the bounds hold without one; for a certificate, ${listText(smaller.changes)} (${counted(smaller.states, 'state')}); ${otherText(smaller, proved)}`,
  });
}

/** Null: nothing that was tried makes the proof small enough. */
async function smallerOf(task: SearchTask, io: Io): Promise<SmallerProof | null> {
  const progress = openProgress(io, 'looking for a smaller proof');
  try {
    return await runSteps(smallerProof(boundsQuestion(task)), io, () => progress.at(null));
  } finally {
    progress.end();
  }
}

/** What the smaller proof proves, beside what the larger one would have. */
function otherText({ bounds }: SmallerProof, proved: Proved): string {
  const differing = (['atRest', 'anyState'] as const).flatMap((from) => {
    const [now, then] = [proved[from], bounds.alwaysReportedFromMs[from]];
    if (now === undefined || now === then) return [];
    const where = from === 'atRest' ? 'at rest' : 'from any state';
    return [`${sureText(then)} ${where} (this one: ${sureText(now)})`];
  });
  const what =
    differing.length === 0 ? 'which is sure from the same lengths' : `sure ${listText(differing)}`;
  return `that proof is of another watch, ${what}`;
}

function sureText(ms: number | null): string {
  return ms === null ? 'at no length' : `from ${roundedDurationText(ms, 'at most')}`;
}
