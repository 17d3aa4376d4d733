// Options of every command that reads timelines: the watch file, and how to read door logs.
import { type Command, Option, type OptionValues } from '@commander-js/extra-typings';
import type { OptionsOf } from '../command.js';
import { problem } from '../problem.js';
import { collected } from './repeated.js';

const formats = ['scenario', 'csv', 'tsv', 'ndjson'] as const;

/** Adds `-c`, the first option of a command. */
export function withWatchFile<Args extends unknown[], Opts extends OptionValues>(
  command: Command<Args, Opts>,
  help = 'the watch file; without it, the defaults apply',
) {
  return command.option('-c, --config <file>', help);
}

/** Adds the options for timelines, which `--help` shows after those that the command already has. */
export function withTimelineOptions<Args extends unknown[], Opts extends OptionValues>(
  command: Command<Args, Opts>,
) {
  return command
    .optionsGroup('Door logs:')
    .option('--zone <zone>', 'zone of times without an offset, such as Europe/Oslo or +02:00')
    .option('--from <instant>', 'start of the timeline (default: the first event of the log)')
    .option('--until <instant>', 'end of the timeline (default: the last event of the log)')
    .option('--where <column=value>', 'read only these rows; repeat it for more', collected)
    .option('--lenient', 'repair rows out of order and overlaps, and list each repair')
    .optionsGroup('Rarely needed:')
    .option('--time-column <name>', 'column with the time of a change')
    .option('--state-column <name>', 'column with the state after the change')
    .option('--start-column <name>', 'column with the start of an opening')
    .option('--end-column <name>', 'column with the end of an opening')
    .option('--open-word <word>', 'a word that also means open; repeat it for more', collected)
    .option('--shut-word <word>', 'a word that also means shut; repeat it for more', collected)
    .addOption(
      new Option(
        '--format <format>',
        'format of the timelines, if their names do not show it',
      ).choices(formats),
    )
    .option('--seed <text>', 'seed of all random draws')
    .option('--power-on-at <duration>', 'when the device gets its power, such as 90s');
}

export type InputFormat = 'scenario' | 'csv' | 'tsv' | 'ndjson';

/** What was typed about the watch and the timelines. */
export type TimelineOptions = OptionsOf<typeof withWatchFile<[], Record<never, never>>> &
  OptionsOf<typeof withTimelineOptions<[], Record<never, never>>>;

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

/** The format of an input: `--format`, else by the ending of its name. @throws InputProblem when neither is known. */
export function formatOf(file: string, options: TimelineOptions): InputFormat {
  if (options.format !== undefined) return options.format;
  const ending = /\.([^./\\]+)$/u.exec(file)?.[1]?.toLowerCase() ?? '';
  const format = Object.hasOwn(endings, ending) ? endings[ending] : undefined;
  if (format !== undefined) return format;
  throw problem('unknown-format', file, {
    message:
      file === '-'
        ? 'it has no file name, so it needs --format'
        : 'the file name does not show what the file holds',
    ...(file === '-'
      ? {}
      : {
          expected:
            'a name that ends in .yaml, .yml or .json (scenario), .csv, .tsv, .ndjson or .jsonl (door log)',
        }),
    hint: 'add --format scenario, --format csv, --format tsv or --format ndjson',
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
      message: 'it can be read only once',
      hint: 'give all but one of the inputs as files',
    });
  }
  const given = onlyForLogs.find(([key]) => options[key] !== undefined);
  if (given !== undefined && inputs.every((input) => formatOf(input, options) === 'scenario')) {
    throw problem('option-for-logs', given[1], {
      message: 'this option is for door logs, and none of the inputs is one',
      hint: 'leave it out: a scenario file holds its own times',
    });
  }
}
