// What every run of the program must do, whatever it was given: end with 0, 1 or 2, show no stack, say where and what
// was wrong, and write no file that was not named.
import type { Ran } from '../laws/support/in-process.js';

/** What is wrong with a run; empty: nothing. @param fresh files that were not there before it. */
export function faultsIn(ran: Ran, fresh: readonly string[]): readonly string[] {
  const { status, stderr, stdout, args } = ran;
  const faults: string[] = [];
  if (![0, 1, 2].includes(status))
    faults.push(`exit status ${String(status)}: ${stderr.slice(-1_500)}`);
  if (/\n\s+at .+:\d+:\d+/u.test(stderr + stdout))
    faults.push(`a stack trace: ${stderr.slice(-1_500)}`);
  if (status === 2) faults.push(...errorFaults(stderr, stdout));
  if (/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e]/u.test(stderr)) {
    faults.push(`a control character in an error: ${JSON.stringify(stderr.slice(0, 1_500))}`);
  }
  const strange = fresh.filter((file) => !args.some((arg) => isNamedBy(file, arg)));
  if (strange.length > 0) faults.push(`files that nobody named: ${strange.join(', ')}`);
  return [...faults, ...stubFaults(ran)];
}

/** For the test of the soak: a law that no run keeps, so that there is a failure to see again. */
function stubFaults({ status, stderr, stdout, args }: Ran): readonly string[] {
  if (process.env['DOZEWATCH_SOAK_STUB'] !== 'any status') return [];
  return [
    `${args.join(' ')} ended with ${String(status)}: ${stderr.slice(0, 300)}${stdout.slice(0, 300)}`,
  ];
}

function isNamedBy(file: string, arg: string): boolean {
  const [first = ''] = file.split('/');
  return arg.includes(first);
}

/** Of every error: with a place in a file it also shows the line, or says what stood there and what was expected. */
function errorFaults(stderr: string, stdout: string): readonly string[] {
  const errors = stderr.split(/^(?=error: )/mu).filter((text) => text.startsWith('error: '));
  // A suite reports a scenario that cannot be read among its cases.
  if (errors.length === 0) {
    return /error/iu.test(stdout) ? [] : [`status 2 without an error: ${stderr}${stdout}`];
  }
  return errors.flatMap((text) => {
    const isPlaced = /^error: [^\n'"]+:\d+: /u.test(text);
    const shows = /^ {2}(?:found|expected|hint):|^ +\d+ \| /mu.test(text);
    return isPlaced && !shows ? [`an error that shows nothing: ${text.slice(0, 600)}`] : [];
  });
}
