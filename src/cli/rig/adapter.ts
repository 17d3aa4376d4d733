// The wrapper that makes a firmware of a program of two functions, one called once and one called repeatedly.
import { plain } from '../../base/index.js';
import type { ExitStatus, Io } from '../host/io.js';
import { refuseStdout } from '../host/outputs.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { print } from '../layout/print.js';
import { problem } from '../problem.js';

const option = '--adapter';

/** @throws InputProblem for a file that may not be written, and where something else is given as well. */
export async function writeAdapter(
  file: string,
  given: readonly string[],
  io: Io,
): Promise<ExitStatus> {
  if (given.length > 0) {
    throw problem('adapter-alone', given.join(' '), {
      message: '--adapter writes a file, and runs nothing',
      hint: `leave out the rest; then name ${plain(file)} as one of the source files`,
    });
  }
  refuseStdout(option, file);
  if (!/\.(?:c|cc|cpp|cxx)$/iu.test(file)) {
    throw problem('unknown-format', file, {
      message: 'the file name must end in .c, or in .cpp, .cc or .cxx for a program in C++',
    });
  }
  await refuseUnfitOutputs([{ option, file }], { inputs: [], io });
  await writeOutput(file, [wrapper], io);
  await print(
    io,
    `Written: ${plain(file)}\nNext: dozewatch rig PROGRAM.c ${plain(file)} TIMELINE.yaml -c watch.yaml\n`,
  );
  return 0;
}

const wrapper = `/* Runs a program of two functions in dozewatch rig, one called once and one called repeatedly, as the device does after each wake.
   Other names: -D ONCE=begin -D REPEATED=step. The sleep of the program has to end in dw_sleep_ms: map the calls of its
   platform in a header, as docs/rig.md shows. */
#include "dozewatch_rig.h"

#ifndef ONCE
#define ONCE setup
#endif
#ifndef REPEATED
#define REPEATED loop
#endif

void ONCE(void);
void REPEATED(void);

void dw_wake(dw_cause cause)
{
    (void)cause;
    ONCE();
    for (;;) REPEATED();
}
`;
