// Year: the device over a year with the people around it: openings, messages, charges, answers. It draws nothing itself: its
// years are those of an estimate, and each is one run.

export { calendarText } from './calendar-text.js';
export { type ChargeDays, chargeDays } from './charge-by.js';
export { type FirstYear, firstYear } from './first-year.js';
export { expectedOf, type LivedYears, livedYears, type YearQuestion } from './lived-years.js';
