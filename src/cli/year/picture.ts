// The picture of `year`: the first simulated year, in the words of the report.
import { dayMs, nameOfFile, numberText, plain, sentence } from '../../base/index.js';
import type { ThemeName, YearInput } from '../../chart/index.js';
import { localTime } from '../../scenarios/index.js';
import type { FirstYear } from '../../year/index.js';
import { countedOrNo, perYear, type YearView, yearSentence } from './report.js';

export async function yearPicture(
  view: YearView,
  year: FirstYear,
  on: { readonly startMs: number; readonly theme: ThemeName },
): Promise<string> {
  const { yearChart } = await import('../../chart/index.js');
  const { set, start } = view;
  const { renewal, isDrained } = view;
  const charged = year.isChargedByCalendar
    ? ` \u00b7 drawn ${renewal.byCalendar}; the counts assume a battery that never runs empty`
    : !isDrained && year.flat.length > 0
      ? ' \u00b7 drawn with a battery that runs empty; the counts assume one that never does'
      : '';
  // A mean over the years; of a single year, its count.
  const each = set.years === 1 ? 'in the year' : 'per year';
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
      { name: `leave-opens ${each}`, value: perYear(set, 'leaveOpens') },
      { name: `missed ${each}`, value: perYear(set, 'missed'), alarm: 'missed' },
      { name: `false alarms ${each}`, value: perYear(set, 'falseAlarms'), alarm: 'false' },
      ...(isDrained ? [{ name: `${renewal.times} ${each}`, value: perYear(set, 'charges') }] : []),
    ],
    strip: stripTitle(set.years, year.counts),
    months: monthsFrom(on.startMs, year.lengthMs),
  };
  return yearChart({ ...input, options: { theme: on.theme } });
}

/** The headline and the figures are of all years, the marks below of one: so its own counts are beside them. */
function stripTitle(
  years: number,
  { leaveOpens, missed, falseAlarms }: FirstYear['counts'],
): string {
  const which =
    years === 1 ? 'the simulated year' : `the first of the ${String(years)} simulated years`;
  const none = (count: number): string => (count === 0 ? 'none' : numberText(count));
  return `Day by day, ${which}: ${countedOrNo(leaveOpens, 'leave-open')}${leaveOpens === 0 ? '' : ` (${none(missed)} missed)`}, ${countedOrNo(falseAlarms, 'false alarm')}`;
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
