// The number of a day, without an object a day; tests compare it with the date library.

const monthDays = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Days since 1970-01-01; NaN for a date that is not in the calendar. Years begin in March here, leap days come last. */
export function dayNumber(year: number, month: number, day: number): number {
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  const longest = month === 2 && leap ? 29 : (monthDays[month - 1] ?? Number.NaN);
  if (!(day >= 1 && day <= longest) || Number.isNaN(year)) return Number.NaN;
  const marchYear = month <= 2 ? year - 1 : year;
  const inYear = Math.floor((153 * ((month + 9) % 12) + 2) / 5) + day - 1;
  const leaps =
    Math.floor(marchYear / 4) - Math.floor(marchYear / 100) + Math.floor(marchYear / 400);
  return marchYear * 365 + leaps + inYear - 719_468;
}
