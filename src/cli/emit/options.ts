// `dozewatch emit`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { Argument, Option } from '@commander-js/extra-typings';
import { wholeNumber } from '../arguments/whole-number.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
c        NAME.h and NAME.c: the watch as tables and the few lines that walk them. No heap, no recursion, no
         library; the firmware tells it what happened, and it answers what to do. NAME_rig.c shows how,
         and runs in the rig.
scxml    the same as W3C SCXML, for any interpreter of that standard.
diagram  its states and what leads from one to the next, as SVG or PNG, or as Mermaid text.

What is written comes from the state machine that bounds, hunt and replay run; C and SCXML have as few
states as tell its behaviour.

Examples:
  dozewatch emit c -c watch.yaml -o firmware --name hatch
  dozewatch emit scxml -c watch.yaml -o hatch.scxml
  dozewatch emit diagram -c watch.yaml -o states.svg
  dozewatch emit diagram -c watch.yaml --format mermaid

Exit status: 0 when the files are written.

${caution}`;

/** Adds what `emit` takes. */
export function emitTakes(command: Command) {
  return command
    .description('Writes the logic of a watch file in another language, or draws it.')
    .addArgument(
      new Argument('<language>', 'what to write').choices(['c', 'scxml', 'diagram'] as const),
    )
    .option('-c, --config <file>', 'the watch file; without it the defaults apply')
    .option('-o, --output <path>', 'c: the folder; else the file (default: standard output)')
    .option('--force', 'overwrite files that emit did not write')
    .option('--json', 'print what was written as JSON, schema dozewatch/emit/1')
    .optionsGroup('For c:')
    .option('--name <name>', 'of the files, and in front of every C name (default: watch)')
    .optionsGroup('For diagram:')
    .addOption(
      new Option('--format <format>', 'what to draw with; default: as the name ends').choices([
        'svg',
        'png',
        'mermaid',
      ] as const),
    )
    .option('--dark', 'light on dark')
    .option(
      '--width <pixels>',
      'width of the picture',
      wholeNumber('--width', { least: 560, most: 4_000 }),
    )
    .addHelpText('after', afterHelp);
}

export type EmitOptions = OptionsOf<typeof emitTakes>;
