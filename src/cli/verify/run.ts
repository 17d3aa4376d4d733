// `dozewatch verify`: checks one certificate against one watch.

import path from 'node:path';
import { plain, shellWord } from '../../base/index.js';
import { bounceMarginsOf, gapsOf } from '../../bounds/index.js';
import type { Environment } from '../../model/index.js';
import { type Verdict, verifyCertificate } from '../../verify/index.js';
import { overridesOf } from '../arguments/watch-overrides.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { openProgress } from '../host/progress.js';
import { runSteps } from '../host/run-steps.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { loadWatch } from '../inputs/load-watch.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { type InputProblem, problem } from '../problem.js';
import type { VerifyOptions } from './options.js';
import { readCertificate } from './read-certificate.js';
import { boundsWords, readable, verifyJson, verifyReport } from './report.js';

/** @throws InputProblem for files that cannot be read or believed, and for a certificate of another watch. */
export async function verify(
  file: string,
  options: VerifyOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  if (file === '-' && options.config === '-') {
    throw problem('standard-input-twice', '-', {
      message: 'standard input can be read only once',
      hint: 'give the name of a file for the watch or for the certificate',
    });
  }
  const watch = await loadWatch(options.config, io, overridesOf(options));
  const paint = paintFor('stderr', on);
  await writeDiagnostics(watch.warnings, { io, paint });
  const json = await readCertificate(file, io);
  const progress = openProgress(io, `checking ${plain(file)}`);
  const verdict = await runSteps(verifyCertificate(json, watch.watchFile), io, (share) =>
    progress.at(share),
  );
  progress.end();
  const { name: watchName, watchFile } = watch;
  const overrides = overridesOf(options);
  const given: Readonly<Record<string, unknown>> = { ...options };
  const noConfig = given['noConfig'] === true;
  const proveInto = (name: string): string =>
    ['dozewatch', ...boundsWords({ watchName, noConfig, overrides }, name)]
      .map(shellWord)
      .join(' ');
  const another = path.basename(file) === 'proof.json' ? 'new-proof.json' : 'proof.json';
  refuseOther(verdict, file, { watchName, prove: proveInto(another) });
  const prove = proveInto(file === '-' ? another : file);
  const wanted = watchFile.environment;
  refuseMilder(verdict, file, { wanted, prove });
  const judge = watchName === null ? null : watchFile.judge;
  const gaps = gapsOf(watchFile);
  const { contact, timing, watch: settings } = watchFile;
  const { ownLogic } = watch;
  const bounce = bounceMarginsOf({ contact, timing, ownLogic, program: { watch: settings } });
  const view = { file, watchName, noConfig, wanted, overrides, verdict, gaps, bounce, judge };
  if (options.json === true) await io.stdout.write(verifyJson(view));
  else {
    for (const part of verifyReport(view, io.stdout.columns, paintFor('stdout', on))) {
      await print(io, part);
    }
  }
  return verdict.kind === 'verified' ? 0 : 1;
}

/** @throws InputProblem for a file that is not a certificate, or that is one of another watch. */
function refuseOther(
  verdict: Verdict,
  file: string,
  { watchName, prove }: { readonly watchName: string | null; readonly prove: string },
): void {
  if (verdict.kind !== 'malformed' && verdict.kind !== 'other watch') return;
  const { place, message, found, expected } = verdict;
  const facts = {
    ...(found === undefined ? {} : { found: readable(place, found) }),
    ...(expected === undefined ? {} : { expected: readable(place, expected) }),
  };
  const at = place === '' ? '' : ` (at ${place})`;
  if (verdict.kind === 'malformed') {
    const isOther =
      place === '' || (place === '/schema' && found?.includes('dozewatch/certificate/') !== true);
    throw problem('certificate-malformed', file, {
      message: isOther ? 'this is not a certificate of dozewatch' : `${message}${at}`,
      ...facts,
      hint: `write one: ${prove}`,
    });
  }
  const give = 'give the watch file and the options with which the bounds were proved';
  // `bounds` advises to leave them out where a proof with them is too large.
  const lacksHeartbeats = place === '/watch/heartbeats' && found === 'false';
  throw problem('certificate-of-another-watch', file, {
    message: `${message} than ${watchName ?? 'the defaults'}${at}`,
    ...facts,
    hint: lacksHeartbeats
      ? `the certificate is of a watch without heartbeatInterval: ${give}`
      : `${give}, or prove these: ${prove}`,
  });
}

/** @throws InputProblem where more may go wrong than the certificate covers. */
function refuseMilder(
  verdict: Verdict,
  file: string,
  { wanted, prove }: { readonly wanted: Environment; readonly prove: string },
): void {
  if (verdict.kind !== 'verified') return;
  const at = (name: string) => ({ file, name, prove });
  const { environment } = verdict.certificate;
  const budgets = ['outages', 'powerLosses', 'resets'] as const;
  for (const name of [...budgets, 'longestOutageMs', 'longestChatterMs'] as const) {
    refuseLess(environment[name], wanted[name], at(name));
  }
  if (wanted.outages > 1 && environment.outagesApartMs > wanted.outagesApartMs) {
    throw milder(at('outagesApartMs'), {
      found: String(environment.outagesApartMs),
      expected: `${String(wanted.outagesApartMs)} or less`,
    });
  }
  if (wanted.powerLosses > 0) {
    const name = 'longestPowerLossMs';
    refuseLess(environment[name], wanted[name], at(name));
  }
}

interface MilderAt {
  readonly file: string;
  readonly name: string;
  readonly prove: string;
}

function refuseLess(certified: number, wanted: number, at: MilderAt): void {
  if (certified >= wanted) return;
  throw milder(at, {
    found: String(certified),
    expected: `${String(wanted)} or more`,
  });
}

function milder(
  { file, name, prove }: MilderAt,
  { found, expected }: { readonly found: string; readonly expected: string },
): InputProblem {
  const place = `/environment/${name}`;
  return problem('certificate-of-milder-environment', file, {
    message: `the certificate covers less than the watch file and the options allow to go wrong (at ${place})`,
    found: readable(place, found),
    expected: readable(place, expected),
    hint: `prove the bounds again: ${prove}`,
  });
}
