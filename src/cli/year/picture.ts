// The picture of `year`: the first simulated year, in the words of the report.
import { dayMs, nameOfFile, plain, sentence } from '../../base/index.js';
import type { ThemeName, YearInput } from '../../chart/index.js';
import { localTime } from '../../scenarios/index.js';
import type { FirstYear } from '../../year/index.js';
import { perYear, type YearView, yearSentence } from './report.js';

export async function yearPicture(
  view: YearView,
  year: FirstYear,
  on: { readonly startMs: number; readonly theme: ThemeName },
): Promise<string> {
  const { yearChart } = await import('../../chart/index.js');
  const { set, start } = view;
  const { renewal, isDrained } = view;
  const charged = year.isChargedByCalendar
    ? ' \u00b7 the charge as by the calendar; the counts always have charge'
    : '';
  const input: YearInput = {
    ...year,
    charged: year.isChargedByCalendar ? `${renewal.done}, by the calendar` : renewal.done,
    name: plain(nameOfFile(view.file ?? 'the defaults')),
    subtitle: `${plain(nameOfFile(view.profile))}, from ${start}, seed ${plain(view.seed)}${charged}`,
    note: {
      words: sentence(yearSentence(view)),
      standing: set.missed > 0 ? 'bad' : set.falseAlarms > 0 ? 'doubtful' : 'good',
    },
    figures: [
      ['leave-opens per year', perYear(set, 'leaveOpens')],
      ['missed', perYear(set, 'missed')],
      ['false alarms', perYear(set, 'falseAlarms')],
      ...(isDrained ? [[renewal.times, perYear(set, 'charges')] as const] : []),
    ],
    months: monthsFrom(on.startMs, year.lengthMs),
  };
  return yearChart({ ...input, options: { theme: on.theme } });
}

const names = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

function monthsFrom(startMs: number, lengthMs: number): YearInput['months'] {
  const days = Array.from({ length: Math.ceil(lengthMs / dayMs) }, (_, day) => day * dayMs);
  return days.flatMap((atMs) => {
    const { date } = localTime({ epochMs: startMs + atMs, timeZone: 'UTC' }, 0);
    const label = names[Number(date.slice(5, 7)) - 1] ?? '';
    return date.endsWith('-01') || atMs === 0 ? [{ atMs, label }] : [];
  });
}
