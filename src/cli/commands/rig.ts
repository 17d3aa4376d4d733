// `dozewatch rig`: its arguments, options and help.
import { caution } from '../present/caution.js';
import type { CommandDefinition } from './command.js';
import { withTimelineOptions } from './timeline-options.js';

const afterHelp = `
The firmware defines void dw_wake(dw_cause cause), and talks to the world through dozewatch_rig.h alone.
Each wake starts from scratch: only DW_RETAINED variables carry over. Its verdict is that of replay; a
firmware that crashes, loops or never sleeps is a finding of its own, with the instant. CC and CXX name
the compilers. A POSIX system is needed; Windows is not one.

Examples:
  dozewatch rig firmware.c delivery-day.yaml -c watch.yaml
  dozewatch rig firmware.c doors.csv -c watch.yaml --zone Europe/Oslo --json
  dozewatch rig firmware.cpp week.yaml --chart week.svg

Exit status: 0 nothing missed, late or false, expectations met, and the firmware ran to the end; 1
otherwise; 2 no compiler, a firmware that does not compile, bad input or usage.

${caution}`;

export const rigCommand: CommandDefinition = {
  define(command, start) {
    withTimelineOptions(
      command
        .description(
          "Compiles the owner's own firmware for this machine, runs it through timelines in virtual time, and\n" +
            'judges what it did.',
        )
        .argument('<firmware>', 'a C or C++ file that includes dozewatch_rig.h')
        .argument('[timelines...]', 'scenarios and door logs; - is standard input'),
    )
      .option('--time-limit <duration>', 'of real time for one timeline; default 2m')
      .optionsGroup('Output:')
      .option('--json', 'print the verdict as JSON, schema dozewatch/replay/1')
      .option('--all', 'show every row of long tables')
      .option('--trace <file>', 'write every wake of the firmware as NDJSON')
      .option('--chart <file>', 'draw the timeline, as .svg or .png')
      .addHelpText('after', afterHelp)
      .action((firmware, timelines, options) =>
        start(async (io, style) => {
          const { rig } = await import('../work/rig.js');
          return rig([firmware, ...timelines], options, { io, style });
        }),
      );
  },
};
