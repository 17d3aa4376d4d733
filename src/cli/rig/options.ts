// `dozewatch rig`: what it takes, and its help.

import type { Command } from '@commander-js/extra-typings';
import { withTimelineOptions } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';
import { caution } from '../layout/caution.js';

const afterHelp = `
The firmware defines void dw_wake(dw_cause cause), and talks to the world through dozewatch_rig.h alone.
Each wake starts from scratch: only DW_RETAINED variables carry over. Its verdict is that of replay; a
firmware that crashes, loops or never sleeps is a finding of its own, with the instant. CC and CXX name
the compilers. A POSIX system is needed; Windows is not one.

--hunt tries what judge: asks for, and that the firmware runs to the end, keeps to one alert a cooldown,
delivers what it decides, tries its heartbeats, and is not awake for much longer than the watch would
be. By default outages, power cuts and resets are among what it tries. What the watch file's own machine
breaks on the same timeline does not count. --conform holds what the firmware decides (sends, sleeps)
against that machine, on the timelines given, or on hunted ones.

Examples:
  dozewatch rig firmware.c delivery-day.yaml -c watch.yaml
  dozewatch rig firmware.c doors.csv -c watch.yaml --zone Europe/Oslo --json
  dozewatch rig firmware.cpp week.yaml --chart week.svg
  dozewatch rig firmware.c --suite scenarios
  dozewatch rig firmware.c --hunt -c watch.yaml
  dozewatch rig firmware.c --conform -c watch.yaml

Exit status: 0 nothing missed, late or false, expectations met, and the firmware ran to the end; 1
otherwise; 2 no compiler, a firmware that does not compile, bad input or usage.

${caution}`;

/** Adds what `rig` takes. */
export function rigTakes(command: Command) {
  return withTimelineOptions(
    command
      .description(
        "Compiles the owner's own firmware for this machine, runs it through timelines in virtual time, and\n" +
          'judges what it did.',
      )
      .argument('<firmware>', 'a C or C++ file that includes dozewatch_rig.h')
      .argument('[timelines...]', 'scenarios and door logs; - is standard input'),
  )
    .option('--time-limit <duration>', 'of real time for one timeline; default 2m')
    .optionsGroup('In place of timelines:')
    .option('--suite <dir>', 'every scenario of a folder, held to its own expectations')
    .option('--junit <file>', 'with --suite: write the findings as JUnit XML')
    .option('--hunt', 'look for a timeline that breaks the firmware')
    .option('--conform', 'look for one on which firmware and machine decide differently')
    .option('--with <faults>', 'what a hunt may try: outages,power,resets,chatter')
    .option('--calm', 'a hunt tries nothing but the door')
    .option('--runs <count>', 'timelines that a hunt tries; default 1000')
    .option('--for <duration>', 'a hunt goes on for so long, such as 30s')
    .option('--length <duration>', 'of each hunted timeline; default 1d')
    .option('--path <text>', 'straight to an earlier finding of the same seed')
    .option('-o, --output <file>', 'write what a hunt finds into a file, as a scenario')
    .optionsGroup('Output:')
    .option('--json', 'print the verdict as JSON, schema dozewatch/replay/1')
    .option('--all', 'show every row of long tables')
    .option('--trace <file>', 'write every wake of the firmware as NDJSON')
    .option('--chart <file>', 'draw the timeline, as .svg or .png')
    .addHelpText('after', afterHelp);
}

export type RigOptions = OptionsOf<typeof rigTakes>;
