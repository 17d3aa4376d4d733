// A battery is charged; cells that are thrown away are replaced. Which of the two, in the words of reports.
import type { SupplySettings } from '../model/index.js';

export interface Renewal {
  /** `a charge lasts` */
  readonly lasts: string;
  /** At a steady current: `a full charge lasts` */
  readonly fullLasts: string;
  /** `83 % of` … is left */
  readonly whole: string;
  /** … `is flat in 2 d`, … `does not last 7 days` */
  readonly fresh: string;
  /** `off,` …; `missed because` … */
  readonly usedUp: { readonly short: string; readonly past: string; readonly now: string };
  /** `spread of` … */
  readonly life: string;
  /** `none since` … */
  readonly last: string;
  /** `it had` … `since` */
  readonly some: string;
  /** `press its reset button, or` … */
  readonly give: string;
  /** `With the door open,` … */
  readonly connect: string;
  /** Within what the maker allows. */
  readonly caution: string;
  /** `each` … */
  readonly one: string;
  /** `The latest days to` … */
  readonly act: string;
  /** The latest days, `if` … on a day. */
  readonly full: string;
  /** `somebody` … */
  readonly does: string;
  /** `nobody` …, in one word with the device as its object. */
  readonly done: string;
  /** somebody comes when … */
  readonly due: string;
  /** `It makes no checks meanwhile, and` … */
  readonly noReset: string;
  /** The calendar file of a command to run next. */
  readonly calendar: string;
  /** A picture is drawn … */
  readonly byCalendar: string;
  /** How often: the name of a row. */
  readonly times: string;
}

const charged: Renewal = {
  lasts: 'a charge lasts',
  fullLasts: 'a full charge lasts',
  whole: 'a full charge',
  fresh: 'a full charge',
  usedUp: {
    short: 'charge used up',
    past: 'the charge was used up',
    now: 'the charge is used up',
  },
  life: 'the life of a charge',
  last: 'the charge',
  some: 'a charge',
  give: 'charge it',
  connect: 'exchange the battery for a charged one',
  caution: "Charge and store lithium cells within their maker's limits.",
  one: 'charge',
  act: 'charge the battery',
  full: 'it is full',
  does: 'charges the battery',
  done: 'charged',
  due: 'a charge is due',
  noReset: 'It makes no checks meanwhile, and a charge does not end that.',
  calendar: 'charges.ics',
  byCalendar: 'with charges by the calendar',
  times: 'charges',
};

const replaced: Renewal = {
  lasts: 'a set of cells lasts',
  fullLasts: 'a new set of cells lasts',
  whole: 'what new cells hold',
  fresh: 'a new set of cells',
  usedUp: { short: 'cells empty', past: 'the cells were empty', now: 'the cells are empty' },
  life: 'the life of a set of cells',
  last: 'the new cells',
  some: 'new cells',
  give: 'give it new cells',
  connect: 'put in new cells',
  caution: "Never charge these cells. Store and use them within their maker's limits.",
  one: 'replacement',
  act: 'replace the cells',
  full: 'they are new',
  does: 'replaces the cells',
  done: 'new cells',
  due: 'new cells are due',
  noReset:
    'It makes no checks meanwhile. Here new cells do not end that, since these years simulate a replacement without a loss of power; a real device that loses power then starts again and checks.',
  calendar: 'new-cells.ics',
  byCalendar: 'with new cells by the calendar',
  times: 'replacements of the cells',
};

const nickel: Renewal = {
  ...charged,
  caution:
    "Charge these cells only with a charger made for nickel-metal hydride cells, and store them within their maker's limits.",
};

/** @param supply null: nothing is known of it, and it is charged like any. */
export function renewalOf(supply: Pick<SupplySettings, 'cells'> | null): Renewal {
  const cells = supply?.cells;
  if (cells === undefined) return charged;
  if (isNickel(cells.name)) return nickel;
  return cells.isRecharged ? charged : replaced;
}

/** How to take the power away without harm. Of a battery that is not known, as of a lithium cell. */
export function disconnectWords(supply: Pick<SupplySettings, 'cells'> | null): string {
  const name = supply?.cells?.name;
  if (name === undefined || isLithium(name)) return 'take a lithium cell off by its connector';
  return 'take its cells out of their holder without a short circuit between their ends, which makes them hot';
}

function isNickel(name: string): boolean {
  return name.startsWith('nimh-');
}

function isLithium(name: string): boolean {
  return name.startsWith('li');
}
