// Options that `replay` and `chart` share: which watch, and how the timelines are to be read.
import { type Command, Option, type OptionValues } from '@commander-js/extra-typings';

const formats = ['scenario', 'csv', 'tsv', 'ndjson'] as const;

/** Adds the options; the command's own arguments and options come before or after them. */
export function withTimelineOptions<Args extends unknown[], Opts extends OptionValues>(
  command: Command<Args, Opts>,
) {
  return command
    .option('-c, --config <file>', 'the watch file; without it the defaults apply')
    .option('--seed <text>', 'seed of everything drawn at random')
    .option('--power-on-at <duration>', 'when the device gets its power, such as 90s')
    .addOption(
      new Option('--format <format>', 'what the timelines are, where names do not tell').choices(
        formats,
      ),
    )
    .optionsGroup('Options for door logs:')
    .option('--from <instant>', 'start of the timeline; default: the first event of the log')
    .option('--until <instant>', 'its end; default: the last event')
    .option('--zone <zone>', 'for times without an offset, such as Europe/Oslo or +02:00')
    .option('--lenient', 'repair rows out of order and overlaps, and list each repair')
    .option('--time-column <name>', 'column with the time of an edge')
    .option('--state-column <name>', 'column with the state after it')
    .option('--start-column <name>', 'column with the start of an opening')
    .option('--end-column <name>', 'column with its end')
    .option('--open-word <word...>', 'further words for an open door')
    .option('--shut-word <word...>', 'further words for a shut door');
}
