// Remarks on a log that was read: the meaning of its words, and what was merged, left out or repaired.
import { type Diagnostic, dayMs, shellWord } from '../../base/index.js';
import { dayNumber } from '../time/day-number.js';
import { writeLocal } from '../time/local-time.js';
import type { BuiltOpenings } from './build.js';
import type { Intake } from './intake.js';
import type { LogTimes } from './log-time.js';
import type { OpenReadings } from './readings.js';
import type { RowDates } from './row-dates.js';
import type { StateWords } from './state-words.js';

type Remark = (code: string, message: string, hint?: string) => void;

/** The words come first, the repairs last. */
export function logRemarks(
  intake: Intake,
  built: BuiltOpenings,
  from: {
    readonly times: LogTimes;
    readonly states: StateWords | null;
    readonly file: string;
    readonly dates: RowDates;
  },
): readonly Diagnostic[] {
  const { mergedRows, emptyOpenings } = built;
  const { times, states, file, dates } = from;
  const remarks: Diagnostic[] = [];
  const remark: Remark = (code, message, hint) => {
    remarks.push({ code, severity: 'warning', source: { file }, message, hint });
  };
  if (states !== null) remarkOnWords(intake, built, { states, remark });
  const rows = (count: number): string => (count === 1 ? '1 row' : `${String(count)} rows`);
  if (times.tookUtc) {
    const message = 'times without an offset are read as UTC';
    remark('times-taken-as-utc', message, 'if they are local times, name their zone with --zone');
  }
  const unusual = numbersOf(intake, times);
  if (unusual !== null) {
    remark(
      'times-unusual',
      `its times are numbers, read as seconds or milliseconds since 1970: the log begins on ${unusual}`,
      "if they are dates written without marks between their parts, describe them, as in --time-format '%y%m%d%H%M'",
    );
  }
  if (dates.newYears !== null) {
    const year = String(dates.firstDate).slice(0, 4);
    const message =
      dates.newYears === 0
        ? `dates have no year: all are read as of ${year}`
        : `dates have no year: the first row is read as of ${year}, and a new year begins ${dates.newYears === 1 ? 'once' : `${String(dates.newYears)} times`}`;
    remark(
      'dates-counted',
      message,
      'a gap of more than half a year cannot be seen so: log the year',
    );
  } else if (dates.firstDate !== null) {
    const { newDays } = dates;
    const days = newDays === 1 ? 'once' : `${String(newDays)} times`;
    const next =
      newDays === 0
        ? 'all times are on that day'
        : `a new day begins ${days}, at a row much earlier than the one above it`;
    const message = `the first row is on ${dates.firstDate}, and ${next}`;
    remark(
      'dates-counted',
      message,
      'a day without a row cannot be seen so: log the date with each time',
    );
  }
  if (mergedRows > 0) {
    remark('rows-merged', `merged ${rows(mergedRows)} that changed nothing`);
  }
  if (emptyOpenings > 0) {
    const openings = emptyOpenings === 1 ? '1 opening' : `${String(emptyOpenings)} openings`;
    remark('empty-openings', `left out ${openings} without a length`);
  }
  const { rowsWithMore, firstWithMore } = intake;
  if (rowsWithMore > 0) {
    const have = rowsWithMore === 1 ? 'has' : 'have';
    const message = `${rows(rowsWithMore)} ${have} more cells than the header has columns, the first on line ${String(firstWithMore)}: those cells are not read`;
    remark('cells-not-read', message);
  }
  return [...remarks, ...intake.repairs.list()];
}

/** Numbers of this many seconds are rarely those of a counter that began with the log: more than a day. */
const leastCountedMs = dayMs;
/** Logs of other years are more likely dates in digits, such as 2605081230. */
const usualYears = { least: dayNumber(1990, 1, 1) * dayMs, most: dayNumber(2040, 1, 1) * dayMs };

/** The day on which a log begins whose times are numbers of an unusual year; null: it is no such log. */
function numbersOf({ firstMs }: Intake, times: LogTimes): string | null {
  const { least, most } = usualYears;
  const isUsual = firstMs < leastCountedMs || (firstMs >= least && firstMs < most);
  return !times.tookNumbers || isUsual ? null : writeLocal(firstMs).slice(0, 10);
}

function remarkOnWords(
  intake: Intake,
  built: BuiltOpenings,
  { states, remark }: { readonly states: StateWords; readonly remark: Remark },
): void {
  const { lastOpen, lastShut, readings } = states;
  const swapped = [
    lastShut === null ? [] : ['--open-word', shellWord(lastShut)],
    lastOpen === null ? [] : ['--shut-word', shellWord(lastOpen)],
  ]
    .flat()
    .join(' ');
  const otherWay =
    readings === null
      ? `if it is the other way round, swap the words with ${swapped}`
      : `if it is the other way round, use ${otherSide(readings)}`;
  if (states.tookTurned) {
    const meanings = [
      lastShut === null ? [] : [`${lastShut} means closed`],
      lastOpen === null ? [] : [`${lastOpen} means open`],
    ].flat();
    const message = `in the column ${states.column}, ${meanings.join(' and ')}`;
    remark('yes-means-closed', message, otherWay);
  }
  const share = openShare(intake, built);
  if (share > 0.5) {
    const percent = String(Math.floor(share * 100));
    remark('open-most-of-the-time', `the door reads open for ${percent} % of the log`, otherWay);
  }
}

function otherSide({ side, low, high }: OpenReadings): string {
  const limits = low === high ? String(low) : `${String(low)}..${String(high)}`;
  return `--open-${side === 'above' ? 'below' : 'above'} ${limits}`;
}

/** The part of the time from the first row to the last in which the door is open. */
function openShare({ firstMs, lastMs }: Intake, { openings }: BuiltOpenings): number {
  let openMs = 0;
  for (let index = 0; index < openings.fromMs.length; index += 1) {
    openMs += Math.min(openings.toMs[index] ?? 0, lastMs) - (openings.fromMs[index] ?? 0);
  }
  return openMs === 0 ? 0 : openMs / (lastMs - firstMs);
}
