// Options of every command that reads timelines: the watch file, and how to read door logs.
import { type Command, Option, type OptionValues } from '@commander-js/extra-typings';
import { shellWord } from '../../base/index.js';
import type { OptionsOf } from '../command.js';
import { problem } from '../problem.js';
import { collected } from './repeated.js';
import {
  besideFirst,
  besideLog,
  inFolder,
  type LookBeside,
  withWatchChoice,
} from './watch-choice.js';

const durationUnits = ['ms', 's', 'min', 'h', 'mm:ss', 'hh:mm'] as const;
const formats = ['scenario', 'csv', 'tsv', 'ndjson', 'json'] as const;

/** Adds `-c`, the first option of a command. */
export function withWatchFile<Args extends unknown[], Opts extends OptionValues>(
  command: Command<Args, Opts>,
  on: { readonly help?: string; readonly look?: LookBeside } = {},
) {
  const { look = besideFirst } = on;
  const { help = `the watch file (default: watch.yaml ${placeOf(look)})` } = on;
  return withWatchChoice(command.option('-c, --config <file>', help), look);
}

function placeOf(look: LookBeside): string {
  if (look === inFolder) return 'in this folder';
  return look === besideLog ? 'beside the log or here' : 'beside the timeline or here';
}

/** Adds the options for timelines, which `--help` shows after those that the command already has. */
export function withTimelineOptions<Args extends unknown[], Opts extends OptionValues>(
  command: Command<Args, Opts>,
) {
  return withLogOptions(command)
    .option('--seed <text>', 'seed of all that is random')
    .option(
      '--power-on-at <instant>',
      'when the device gets its power: an instant, or a duration from the start such as 90s',
    );
}

/** Adds the options for door logs alone: the same in every command that reads one. */
export function withLogOptions<Args extends unknown[], Opts extends OptionValues>(
  command: Command<Args, Opts>,
) {
  return command
    .optionsGroup('Door logs:')
    .option('--zone <zone>', 'zone of times without an offset, such as Europe/Oslo or +02:00')
    .option('--from <instant>', 'start of the timeline (default: the first event of the log)')
    .option('--until <instant>', 'end of the timeline (default: the last event of the log)')
    .option('--where <column=value>', 'read only these rows; repeat it for more', collected)
    .option('--newest-first', 'read the rows from the last to the first')
    .option('--lenient', 'repair rows out of order and overlaps, and list each repair')
    .optionsGroup('Rarely needed:')
    .option('--time-format <pattern>', "form of the times, such as '%d.%m.%Y %H:%M', or serial")
    .option('--date-column <name>', 'column with the date, if the time is in another')
    .option('--time-column <name>', 'column with the time of a change')
    .option('--state-column <name>', 'column with the state after the change')
    .option('--start-column <name>', 'column with the start of an opening')
    .option('--end-column <name>', 'column with the end of an opening')
    .option('--duration-column <name>', 'column with the length of an opening, in place of its end')
    .addOption(
      new Option(
        '--duration-unit <unit>',
        'unit of lengths that are numbers, or what their two parts are',
      ).choices(durationUnits),
    )
    .option(
      '--date <date>',
      'date of the first row, if the times have none or no year, such as 2026-05-08',
    )
    .option('--open-word <word>', 'a word that also means open; repeat it for more', collected)
    .option('--shut-word <word>', 'a word that also means shut; repeat it for more', collected)
    .option('--open-above <reading>', 'readings above this mean open, such as 1.2 or 1.1..1.3')
    .option('--open-below <reading>', 'readings below this mean open')
    .option(
      '--unavailable-word <word>',
      'a word that also means that the state is not known',
      collected,
    )
    .addOption(
      new Option(
        '--format <format>',
        'format of the timelines, if their names do not show it',
      ).choices(formats),
    );
}

export type InputFormat = 'scenario' | 'csv' | 'tsv' | 'ndjson' | 'json';

/** What was typed about door logs. */
export type LogOptions = OptionsOf<typeof withLogOptions<[], Record<never, never>>>;

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

export const onlyForLogs = [
  ['from', '--from'],
  ['until', '--until'],
  ['zone', '--zone'],
  ['lenient', '--lenient'],
  ['timeFormat', '--time-format'],
  ['dateColumn', '--date-column'],
  ['timeColumn', '--time-column'],
  ['stateColumn', '--state-column'],
  ['startColumn', '--start-column'],
  ['endColumn', '--end-column'],
  ['durationColumn', '--duration-column'],
  ['durationUnit', '--duration-unit'],
  ['date', '--date'],
  ['newestFirst', '--newest-first'],
  ['openWord', '--open-word'],
  ['shutWord', '--shut-word'],
  ['unavailableWord', '--unavailable-word'],
  ['openAbove', '--open-above'],
  ['openBelow', '--open-below'],
  ['where', '--where'],
] as const;

const firmwareEnding = /\.(?:c|cc|cpp|cxx|ino)$/iu;
/** Of files that hold no rows, whatever their format is called; a page may hold a table. */
const otherEnding = /\.(?:h|hpp|py|js|ts|svg|png|jpe?g|pdf|ics|vcd|scxml|dot|mmd|zip)$/iu;

/** The format of an input: `--format`, else by the ending of its name. @throws InputProblem when neither is known. */
export function formatOf(file: string, options: Pick<LogOptions, 'format'>): InputFormat {
  if (options.format !== undefined) return options.format;
  const ending = /\.([^./\\]+?)(?:\.gz)?$/iu.exec(file)?.[1]?.toLowerCase() ?? '';
  const format = Object.hasOwn(endings, ending) ? endings[ending] : undefined;
  if (format !== undefined) return format;
  if (firmwareEnding.test(file)) {
    throw problem('unknown-format', file, {
      message: 'this looks like firmware, but a scenario or a door log is needed here',
      hint: `dozewatch rig runs it: dozewatch rig ${shellWord(file)} TIMELINE -c WATCHFILE`,
    });
  }
  const isRows = file !== '-' && !otherEnding.test(file);
  throw problem('unknown-format', file, {
    ...(isRows ? { tries: ['--format csv'] } : {}),
    message:
      file === '-'
        ? 'it has no file name, so it needs --format'
        : 'the file name does not show what the file holds',
    ...(file === '-'
      ? {}
      : {
          expected:
            'a name that ends in .yaml, .yml or .json (scenario), .csv, .tsv, .ndjson, .jsonl or .json (door log), perhaps with .gz behind it',
        }),
    hint: 'add --format scenario, --format csv, --format tsv, --format ndjson or --format json',
  });
}

/** Whether an input can only be a scenario: a file of JSON may also be a log. */
function isScenario(input: string, options: TimelineOptions): boolean {
  const mayBeList = options.format === undefined && /\.json(?:\.gz)?$/iu.test(input);
  return !mayBeList && formatOf(input, options) === 'scenario';
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
  if (given !== undefined && inputs.every((input) => isScenario(input, options))) {
    throw problem('option-for-logs', given[1], {
      message: 'this option is for door logs, and none of the inputs is one',
      hint: 'leave it out: a scenario file holds its own times',
    });
  }
}
