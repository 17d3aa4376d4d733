// `dozewatch year` at work.

import { plain, weekMs } from '../../base/index.js';
import { lastsAtMs } from '../../battery/index.js';
import { holdNa, mostLivedYears } from '../../model/index.js';
import { bouncesTooMuch, localTime, type WatchFile } from '../../scenarios/index.js';
import { assumptions, renewalOf } from '../../wording/index.js';
import {
  type ChargeDays,
  calendarText,
  chargeDays,
  expectedOf,
  firstYear,
  livedYears,
  type YearQuestion,
} from '../../year/index.js';
import type { Style } from '../command.js';
import { mishapsOf } from '../estimate/readings.js';
import type { ExitStatus, Io } from '../host/io.js';
import { refuseOtherEnding, refuseStdout } from '../host/outputs.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { loadWatch } from '../inputs/load-watch.js';
import { supplyOf } from '../inputs/supply-of.js';
import { checkUsage, usageOf } from '../inputs/usage-of.js';
import { nextLine, optionWords, type Takes, watchWords } from '../layout/next-line.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { paragraphText } from '../layout/table-text.js';
import { pictureFormat, writePicture } from '../layout/write-picture.js';
import { problem } from '../problem.js';
import { tuneTakes } from '../tune/options.js';
import { type YearOptions, yearDefaults, yearTakes } from './options.js';
import { yearPicture } from './picture.js';
import { calendarWords, type YearView, yearJson, yearReport } from './report.js';

/** Of the intervals. */
const confidence = 0.95;

/** @throws InputProblem when a file cannot be believed or the options make no sense. */
export async function year(
  options: YearOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  const years = yearsOf(options.years);
  const startMs = startOf(options.start);
  checkUsage(options);
  await checkFiles(options, io);
  const watch = await loadWatch(options.config, io, []);
  const { watchFile } = watch;
  // Without a supply there are no days to write.
  if (options.output !== undefined) supplyOf(watch, 'a calendar of charges (--output)');
  const usage = await usageOf(options, { ...on, ...watchFile.judge });
  await writeDiagnostics(watch.warnings, { io, paint: paintFor('stderr', on) });
  const { profile } = usage;
  const outages = mishapsOf('outage', options.outageRate, options.outageLasting);
  if (bouncesTooMuch({ profile, contact: watchFile.contact, outages, powerCuts: null })) {
    throw problem('too-many-edges', options.config ?? '--profile', {
      message: 'the contact would change too many times per year',
      hint: 'lower contact.bounceTime in the watch file',
    });
  }
  const question = { watchFile, profile, seed: options.seed, years, outages };
  const charges = watchFile.answer?.charges ?? null;
  const isDrained = watchFile.supply !== null && charges !== null;
  const holds = watchFile.watch.afterAlert === 'hold-until-reset';
  const other = holds ? 'keep-watching' : 'hold-until-reset';
  const set = livedYears(question);
  const { daysMs, waits } = chargeDays(question);
  const view: YearView = {
    file: watch.name,
    profile: usage.name,
    seed: options.seed,
    start: options.start,
    assumes: assumptions(watchFile),
    holds,
    warns: watchFile.watch.lowBattery !== undefined,
    isDrained,
    isAnswered: (watchFile.answer?.afterAlert ?? null) !== null,
    set,
    expected: expectedOf(question, set, confidence),
    hasLimit: watchFile.judge.reportWithinMs !== null,
    aWeekLate: isDrained ? livedYears({ ...question, chargesLateMs: weekMs }) : null,
    weakest: isDrained ? weakestOf(question) : null,
    charging: isDrained ? charges : null,
    otherwise: livedYears({ ...question, afterAlert: other }),
    hasSupply: watchFile.supply !== null,
    hasAnswer: watchFile.answer !== null,
    renewal: renewalOf(watchFile.supply),
    hasCells: watchFile.supply?.cells !== undefined,
    chargeBy: daysMs?.map((ms) => dayOf(startMs + ms)) ?? null,
    waitsForReset: waitOf(waits, startMs),
    heldLifeMs: heldLife(watchFile.supply),
  };
  if (options.output !== undefined) await writeOutput(options.output, [calendarOf(view)], io);
  if (options.chart !== undefined) {
    const theme = options.dark === true ? 'dark' : 'light';
    const picture = await yearPicture(view, firstYear(question), { startMs, theme });
    await writePicture(options.chart, picture, io);
  }
  if (options.json === true) await io.stdout.write(yearJson(view));
  else await tellYear(view, options, on);
  return 0;
}

function calendarOf({ chargeBy, start, renewal: { act } }: YearView): string {
  const days = (chargeBy ?? []).map((day) => day.replaceAll('-', ''));
  const stamp = `${start.replaceAll('-', '')}T000000Z`;
  const summary = `${act.charAt(0).toUpperCase()}${act.slice(1)} of the door monitor`;
  return calendarText(days, { summary, stamp });
}

/** The same years with cells that hold the least that their kind may; null: the capacity is no range. */
function weakestOf(question: YearQuestion): YearView['weakest'] {
  const { watchFile } = question;
  const { supply } = watchFile;
  const leastNah = supply?.cells?.capacityNah.least;
  if (supply === null || leastNah === undefined || leastNah >= supply.capacityNah) return null;
  const least = { ...watchFile, supply: { ...supply, capacityNah: leastNah } };
  const lived = livedYears({ ...question, watchFile: least });
  return { lived, leastNah, usualNah: supply.capacityNah };
}

function waitOf(waits: ChargeDays['waits'], startMs: number): YearView['waitsForReset'] {
  return waits === null ? null : { from: dayOf(startMs + waits.fromMs), isLost: waits.isLost };
}

/** How long a full charge lasts a device that waits awake for a reset; null: not known, or over a hundred years. */
function heldLife(supply: WatchFile['supply']): number | null {
  return supply === null ? null : lastsAtMs(holdNa(supply), supply);
}

async function tellYear(
  view: YearView,
  options: YearOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<void> {
  const { io } = on;
  const paint = paintFor('stdout', on);
  await print(io, yearReport(view, { width: io.stdout.columns, paint }));
  if (options.output !== undefined) {
    const words = calendarWords(view, plain(options.output));
    await print(io, `\n${paragraphText(words, io.stdout.columns)}`);
  }
  if (options.chart !== undefined) await print(io, `\nPicture: ${plain(options.chart)}\n`);
  await print(io, nextText(view, options));
}

function yearsOf(text: string): number {
  const years = /^\d{1,4}$/u.test(text) ? Number(text) : 0;
  if (years >= 1 && years <= mostLivedYears) return years;
  throw problem('out-of-range', '--years', {
    message: 'this is not a count of years',
    found: text,
    expected: `a whole number from 1 to ${String(mostLivedYears)}`,
  });
}

function startOf(text: string): number {
  const ms = /^\d{4}-\d{2}-\d{2}$/u.test(text) ? Date.parse(`${text}T00:00:00Z`) : Number.NaN;
  if (Number.isFinite(ms) && dayOf(ms) === text) return ms;
  throw problem('instant-unreadable', '--start', {
    message: 'this is not a date',
    found: text,
    expected: 'a date such as 2026-05-04',
  });
}

function dayOf(epochMs: number): string {
  return localTime({ epochMs, timeZone: 'UTC' }, 0).date;
}

async function checkFiles(options: YearOptions, io: Io): Promise<void> {
  const { config, profile, profileFrom, output, chart } = options;
  const outputs = [
    { option: '--output', file: output },
    { option: '--chart', file: chart },
  ].flatMap(({ option, file }) => (file === undefined ? [] : [{ option, file }]));
  for (const { option, file } of outputs) refuseStdout(option, file);
  if (outputs.length > 0) {
    await refuseUnfitOutputs(outputs, { inputs: [config, profile, profileFrom], io });
  }
  if (output !== undefined) refuseOtherEnding(output, 'the days are a calendar', '.ics');
  if (chart !== undefined) pictureFormat(chart);
}

/** What to run next: the days as a calendar, or settings with fewer findings. */
function nextText(view: YearView, options: YearOptions): string {
  const defaults: Readonly<Record<string, string>> = yearDefaults;
  const given = Object.entries(options).filter(([key, value]) => value !== defaults[key]);
  const words = (leftOut: readonly string[], takes: Takes): readonly string[] =>
    optionWords(
      Object.fromEntries<unknown>(given),
      ['config', 'chart', 'dark', 'noConfig', ...leftOut],
      takes,
    );
  const watch = watchWords(options.config ?? null, { ...options });
  const isCalendar = (view.chargeBy ?? []).length > 0 && view.waitsForReset === null;
  if (isCalendar && options.output === undefined) {
    const line = ['year', ...watch, ...words([], yearTakes), '-o', view.renewal.calendar];
    return nextLine('these days as a calendar', line);
  }
  if (view.set.missed + view.set.falseAlarms === 0 || !view.hasSupply) return '';
  const ofYears = ['years', 'output'];
  return nextLine('settings that miss less or raise fewer false alarms', [
    'tune',
    ...watch,
    ...words(ofYears, tuneTakes),
  ]);
}
