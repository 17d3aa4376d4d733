// `dozewatch rig`: what it takes, and its help.

import type { Command, OptionValues } from '@commander-js/extra-typings';
import { collected } from '../arguments/repeated.js';
import { withTimelineOptions, withWatchFile } from '../arguments/timeline-options.js';
import type { OptionsOf } from '../command.js';
import { showsAll } from '../help.js';
import { caution } from '../layout/caution.js';

const afterHelp = (isFull: boolean): string => `
The firmware defines void dw_wake(dw_cause cause) and uses only dozewatch_rig.h. Each wake starts from
scratch: only DW_RETAINED variables keep their values. Firmware that crashes, loops or never sleeps is a
finding, with its instant. CC and CXX name the compilers. It needs a POSIX system, so not Windows.
${isFull ? aboutHunt : ''}
Examples:
  dozewatch rig firmware.c delivery-day.yaml -c watch.yaml
  dozewatch rig firmware.c doors.csv -c watch.yaml --zone Europe/Oslo --json
  dozewatch rig firmware.cpp week.yaml --chart week.svg
  dozewatch rig firmware.c --suite scenarios
  dozewatch rig firmware.c --hunt -c watch.yaml
  dozewatch rig firmware.c --conform -c watch.yaml

Exit status: 0 if nothing was missed, late or false, expectations were met, and the firmware ran to the
end; 1 otherwise; 2 no compiler, firmware that does not compile, or bad input.

${caution}`;

const aboutHunt = `
--hunt looks for a timeline on which the firmware breaks a requirement of judge:, fails to finish, alerts
twice in a cooldown, loses an alert, skips a heartbeat, or stays awake much longer than the watch would.
It also tries outages, power losses and resets. What the machine of the watch file breaks on the same
timeline does not count. --conform compares the sends and sleeps that the firmware decides with those of
that machine.
`;

function withBuild<Args extends unknown[], Opts extends OptionValues>(
  command: Command<Args, Opts>,
) {
  return command
    .optionsGroup('How it is compiled:')
    .option(
      '-I, --include <folder>',
      'a folder with headers of the firmware; repeatable',
      collected,
    )
    .option('-D, --define <macro>', 'a macro, as NAME or NAME=VALUE; repeatable', collected)
    .option('--word-size <bits>', '32: long and pointers have 32 bits, as on most devices')
    .option(
      '--build <command>',
      'your own build command, in place of a firmware file; it uses $DW_FLAGS, $DW_HOST, $DW_LIBS and $DW_OUT',
    )
    .option(
      '--process <command>',
      'a firmware in any language, in place of a file: a program that speaks the protocol of docs/rig.md',
    )
    .option(
      '--adapter <file>',
      'write a wrapper (.c or .cpp) for a program of two functions, one called once and one called repeatedly',
    );
}

/** Adds what `rig` takes. */
export function rigTakes(command: Command) {
  const basic = withBuild(
    withWatchFile(
      command
        .description(
          'Compiles your own firmware for this machine, runs it through timelines in virtual time, and judges\n' +
            'it in the same way as replay.',
        )
        .argument('[firmware]', 'a C or C++ file that includes dozewatch_rig.h')
        .argument(
          '[timelines...]',
          'scenarios, door logs, and further source files; - is standard input',
        ),
      {
        look: ([first, second], { suite, build, process: own, adapter }) => {
          if (suite !== undefined || adapter !== undefined) return null;
          return { timeline: (build ?? own) === undefined ? second : first };
        },
      },
    ),
  )
    .optionsGroup('Instead of timelines:')
    .option('--suite <folder>', 'run every scenario of a folder, and check its expectations')
    .option('--junit <file>', 'with --suite: write the results as JUnit XML')
    .option('--hunt', 'look for a timeline that breaks the firmware')
    .option('--conform', 'look for one on which firmware and machine decide differently')
    .optionsGroup('For --hunt and --conform:')
    .option('--with <faults>', 'what may go wrong: outages,power,resets,chatter')
    .option('--calm', 'no faults')
    .option('--runs <count>', 'timelines to try (default: 1000)')
    .option('--for <duration>', 'time to spend, such as 30s')
    .option('--length <duration>', 'length of the longest timelines (default: 60d)')
    .option('--path <text>', 'go straight to an earlier counterexample of the same seed')
    .option('-o, --output <file>', 'write the counterexample as a scenario')
    .optionsGroup('Output:')
    .option('--json', 'print the verdict as JSON, schema dozewatch/replay/2')
    .option('--all', 'show every row of long tables')
    .option('--trace <file>', 'write every wake of the firmware as NDJSON')
    .option('--chart <file>', 'draw the timeline, as .svg, .png, .html or .vcd');
  return withTimelineOptions(basic)
    .option(
      '--clock-starts-at <time>',
      "what the device's clock reads at power-on, such as 20d or 2^32ms-1h",
    )
    .option(
      '--noinit-keeps <duration>',
      'a shorter power loss leaves DW_RETAINED_NOINIT variables as they are (default: 0s)',
    )
    .option(
      '--tolerance <duration>',
      'how far an instant may be from where it is due, for firmware that counts in seconds (default: 0s)',
    )
    .option('--time-limit <duration>', 'real time allowed for one timeline (default: 2m)')
    .addHelpText('after', ({ command: of }) => afterHelp(showsAll(of)));
}

export type RigOptions = OptionsOf<typeof rigTakes>;
