// `dozewatch emit`: its arguments, options and help.
import { Argument } from '@commander-js/extra-typings';
import { caution } from '../present/caution.js';
import type { CommandDefinition } from './command.js';

const afterHelp = `
c        NAME.h and NAME.c: the watch as tables and the few lines that walk them. No heap, no recursion, no
         library; the firmware tells it what happened, and it answers what to do. NAME_rig.c shows how, and
         runs in the rig.

What is written comes from the state machine that bounds, hunt and replay run, with as few states as tell
its behaviour.

Examples:
  dozewatch emit c -c watch.yaml
  dozewatch emit c -c watch.yaml -o firmware --name hatch

Exit status: 0 when the files are written.

${caution}`;

export const emitCommand: CommandDefinition = {
  define(command, start) {
    command
      .description('Writes the logic of a watch file in another language.')
      .addArgument(new Argument('<language>', 'what to write').choices(['c'] as const))
      .option('-c, --config <file>', 'the watch file; without it the defaults apply')
      .option('-o, --output <folder>', 'where to; it is made when missing', '.')
      .option('--name <name>', 'of the files, and in front of every C name', 'watch')
      .option('--force', 'overwrite files that emit did not write')
      .option('--json', 'print what was written as JSON, schema dozewatch/emit/1')
      .addHelpText('after', afterHelp)
      .action((language, options) =>
        start(async (io, style) => {
          const { emit } = await import('../work/emit.js');
          return emit(language, options, { io, style });
        }),
      );
  },
};
