// Options that `replay` and `chart` share: which watch, and how the timelines are to be read.
import { type Command, Option, type OptionValues } from '@commander-js/extra-typings';
import type { OptionsOf } from '../command.js';
import { problem } from '../problem.js';
import { collected } from './repeated.js';

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
    .option('--open-word <word>', 'a further word for an open door; repeat it for more', collected)
    .option('--shut-word <word>', 'a further word for a shut door', collected)
    .option('--where <column=value>', 'read only such rows; repeat it for more', collected);
}

export type InputFormat = 'scenario' | 'csv' | 'tsv' | 'ndjson';

/** Options of `replay` and `chart` that are about their timelines, as they were typed. */
export type TimelineOptions = OptionsOf<typeof withTimelineOptions<[], Record<never, never>>>;

const endings: Readonly<Record<string, InputFormat>> = {
  yaml: 'scenario',
  yml: 'scenario',
  json: 'scenario',
  csv: 'csv',
  tsv: 'tsv',
  ndjson: 'ndjson',
  jsonl: 'ndjson',
};

const onlyForLogs = [
  ['from', '--from'],
  ['until', '--until'],
  ['zone', '--zone'],
  ['lenient', '--lenient'],
  ['timeColumn', '--time-column'],
  ['stateColumn', '--state-column'],
  ['startColumn', '--start-column'],
  ['endColumn', '--end-column'],
  ['openWord', '--open-word'],
  ['shutWord', '--shut-word'],
  ['where', '--where'],
] as const;

/** What an input is: as `--format` says, else by the ending of its name. @throws InputProblem when neither tells. */
export function formatOf(file: string, options: TimelineOptions): InputFormat {
  if (options.format !== undefined) return options.format;
  const ending = /\.([^./\\]+)$/u.exec(file)?.[1]?.toLowerCase() ?? '';
  const format = Object.hasOwn(endings, ending) ? endings[ending] : undefined;
  if (format !== undefined) return format;
  throw problem('unknown-format', file, {
    message:
      file === '-'
        ? 'say what standard input holds'
        : 'its name does not tell what this file holds',
    expected:
      'a name that ends in .yaml, .yml or .json (scenario), .csv, .tsv, .ndjson or .jsonl (door log)',
    hint: 'or say it with --format scenario, csv, tsv or ndjson',
  });
}

/** @throws InputProblem for inputs and options that do not go together. */
export function checkInputs(
  inputs: readonly string[],
  options: TimelineOptions,
  watchName: string | undefined,
): void {
  const fromStdin = [...inputs, watchName].filter((name) => name === '-').length;
  if (fromStdin > 1) {
    throw problem('standard-input-twice', '-', {
      message: 'standard input can be read only once',
      hint: 'give all but one of the inputs as files',
    });
  }
  const given = onlyForLogs.find(([key]) => options[key] !== undefined);
  if (given !== undefined && inputs.every((input) => formatOf(input, options) === 'scenario')) {
    throw problem('option-for-logs', given[1], {
      message: 'this option is for door logs, and there is none among the inputs',
      hint: 'a scenario says such things itself',
    });
  }
}
