// What the formats have in common: each takes lines and hands on rows, or gives up.
import type { Problem } from '../text/problem.js';
import type { DoorLogOptions } from '../types.js';
import type { Intake } from './intake.js';
import type { LogTimes } from './log-time.js';
import type { RowDates } from './row-dates.js';
import type { Sensors } from './sensors.js';
import type { StateWords } from './state-words.js';

/** Takes a log's lines, without their ends. Lines count from 1. */
export interface LineTaker {
  line(text: string, line: number): void;
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
): readonly string[] | undefined {
  return file === '-' ? undefined : [`${filter} | --format csv`];
}
