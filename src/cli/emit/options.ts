// `dozewatch emit`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { Argument, Option } from '@commander-js/extra-typings';
import { pictureWidthLimits } from '../../model/index.js';
import { withWatchFile } from '../arguments/timeline-options.js';
import { inFolder } from '../arguments/watch-choice.js';
import { wholeNumber } from '../arguments/whole-number.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
c        NAME.h and NAME.c: the watch as tables and a few lines of code, without heap, recursion or library.
         Your firmware reports what happened and gets back what to do; NAME_rig.c is an example for rig.
scxml    the watch as W3C SCXML, for any interpreter of that standard
diagram  its states and transitions, as SVG, PNG or Mermaid text

All three come from the state machine that bounds, hunt and replay run.

Examples:
  dozewatch emit c -c watch.yaml -o firmware --name hatch
  dozewatch emit scxml -c watch.yaml -o hatch.scxml
  dozewatch emit diagram -c watch.yaml -o states.svg
  dozewatch emit diagram -c watch.yaml --format mermaid

Exit status: 0 when the files are written; 2 bad input.

${caution}`;

/** Adds what `emit` takes. */
export function emitTakes(command: Command) {
  return withWatchFile(
    command
      .description('Writes the logic of a watch in another language, or draws it.')
      .addArgument(
        new Argument('<language>', 'what to write').choices(['c', 'scxml', 'diagram'] as const),
      ),
    { look: inFolder },
  )
    .option('-o, --output <path>', 'for c: the folder; else the file (default: standard output)')
    .option('--force', 'overwrite files that emit did not write')
    .option('--json', 'print what was written as JSON, schema dozewatch/emit/1')
    .optionsGroup('For c:')
    .option('--name <name>', 'name of the files, and prefix of every C name (default: watch)')
    .optionsGroup('For diagram:')
    .addOption(
      new Option('--format <format>', 'format (default: by the file name)').choices([
        'svg',
        'png',
        'mermaid',
      ] as const),
    )
    .option('--dark', 'draw light on dark')
    .option('--width <pixels>', 'width of the picture', wholeNumber('--width', pictureWidthLimits))
    .addHelpText('after', afterHelp);
}

export type EmitOptions = OptionsOf<typeof emitTakes>;
