// Certificates of watches in plain numbers, as the search writes them.
import { type BoundsQuestion, type Certified, certificateText } from '../../src/bounds/index.js';
import { type Verdict, verifyCertificate } from '../../src/verify/index.js';
import { drained } from './places.js';

export function certified(question: BoundsQuestion, mostStates?: number): Certified {
  return drained(certificateText(question, mostStates));
}

/** @throws Error where the question has no certificate. */
export function certificateOf(question: BoundsQuestion): unknown {
  const result = certified(question);
  if (result.kind !== 'certificate') throw new Error(result.why);
  const json: unknown = JSON.parse(result.text);
  return json;
}

export function verdictOn(json: unknown, { program, timing, reset }: BoundsQuestion): Verdict {
  return drained(verifyCertificate(json, { watch: program.watch, timing, reset }));
}
