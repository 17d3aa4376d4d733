// What the formats have in common: each takes lines and hands on rows, or gives up.
import type { Problem } from '../text/problem.js';
import type { DoorLogOptions } from '../types.js';
import type { Intake } from './intake.js';
import type { LogTimes } from './log-time.js';
import type { TextPlace } from './record.js';
import type { RowDates } from './row-dates.js';
import type { Sensors } from './sensors.js';
import type { StateWords } from './state-words.js';

export type FieldPlaces = (index: number) => TextPlace | undefined;

/** Takes a log's lines, without their ends. Lines count from 1. */
export interface LineTaker {
  /** @param at where its fields begin, where the text is not as it is in the file. */
  line(text: string, line: number, at?: FieldPlaces): void;
  /** After the last line. */
  end(): void;
}

/** What a taker works with. */
export interface LogParts {
  readonly options: DoorLogOptions;
  readonly intake: Intake;
  readonly times: LogTimes;
  readonly sensors: Sensors;
  readonly dates: RowDates;
  /** The words for the states in a column of this name; a log has one such column. */
  statesOf(column: string): StateWords;
  /** Gives the log up: nothing after this line is read. */
  giveUp(problem: Problem, line: number, column?: number): void;
}

/** The log behind a filter, as an offer to try; standard input is there only once. */
export function piped(
  filter: string,
  { file }: Pick<DoorLogOptions, 'file'>,
  format: 'csv' | 'ndjson' = 'csv',
): readonly string[] | undefined {
  return file === '-' ? undefined : [`${filter} | --format ${format}`];
}
