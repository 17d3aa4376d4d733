// The data sheet of a watch: each symbol with its value at rest and from any state, its unit and its meaning.
import { durationText, inThousands } from '../base/index.js';
import type { AtRestAndAnyState, BoundName, Bounds, GapBandMm } from '../bounds/index.js';
import type { Environment } from '../model/index.js';
import { faultsText } from './faults-text.js';

export interface SheetRow {
  readonly symbol: string;
  readonly atRest: string;
  readonly anyState: string;
  readonly unit: string;
  readonly meaning: string;
}

const none = '–';

/**
 * The rows in their order.
 * @param isJudged false: no requirement says which opening counts as brief, so there is no row about brief ones.
 */
export function sheetRows(
  bounds: Bounds,
  environment: Environment,
  isJudged = true,
): readonly SheetRow[] {
  const faults = faultsText(environment);
  const rows = [...timeRows(bounds, faults), ...doorRows(bounds, faults)];
  return isJudged ? rows : rows.filter(({ symbol }) => symbol !== 'A');
}

function timeRows(bounds: Bounds, faults: string): readonly SheetRow[] {
  const { alwaysReportedFromMs: sure, neverAlarmedUpToMs: quiet, worstDelayMs: worst } = bounds;
  const cell = (name: BoundName, ms: number | null, limit: string): string =>
    isUnknown(bounds, name) ? 'unknown' : ms === null ? limit : seconds(ms);
  const bandMs = quiet === null || sure.atRest === null ? null : sure.atRest - quiet;
  return [
    {
      symbol: 'D',
      atRest: cell('alwaysReportedFromMs.atRest', sure.atRest, 'never'),
      anyState: cell('alwaysReportedFromMs.anyState', sure.anyState, 'never'),
      unit: 's',
      meaning: `sure from${words(sure)}: every opening${widerText(bounds)} this long or longer is reported`,
    },
    ...decidedRows(bounds),
    {
      symbol: 'Q',
      atRest: cell('neverAlarmedUpToMs', quiet, 'any length'),
      anyState: none,
      unit: 's',
      meaning:
        quiet === 0
          ? 'never quiet: even the shortest opening can raise an alert'
          : `quiet up to${word(quiet)}: no single opening this short can raise an alert`,
    },
    {
      symbol: 'D − Q',
      atRest: bandMs === null ? none : seconds(bandMs),
      anyState: none,
      unit: 's',
      meaning: `grey band${word(bandMs)}: whether such an opening is reported depends on when it starts${faults}`,
    },
    {
      symbol: 'L max',
      atRest: cell('worstDelayMs.atRest', worst.atRest, 'no limit'),
      anyState: cell('worstDelayMs.anyState', worst.anyState, 'no limit'),
      unit: 's',
      meaning: `worst detection latency${words(worst)}: from opening to delivery, of a door that stays open`,
    },
    {
      symbol: 'L min',
      atRest: cell('bestDelayMs', bounds.bestDelayMs, none),
      anyState: none,
      unit: 's',
      meaning: `best detection latency${word(bounds.bestDelayMs)}`,
    },
  ];
}

/** ` wider than 12 mm`, where the contact can read shut up to that gap and an open door may rest there. */
function widerText({ gaps }: Bounds): string {
  if (gaps === null || gaps.kind === 'assumed') return '';
  return ` wider than ${String(gaps.overMm)} mm and`;
}

/** The length from which an alert is always decided, where it is less than the one from which it is sure to be delivered. */
function decidedRows(bounds: Bounds): readonly SheetRow[] {
  const { alwaysDecidedFromMs: decided } = bounds;
  if (!isDecidedSooner(bounds, 'atRest') && !isDecidedSooner(bounds, 'anyState')) return [];
  const cell = (from: 'atRest' | 'anyState'): string => {
    const ms = decided[from];
    if (isUnknown(bounds, `alwaysDecidedFromMs.${from}`)) return 'unknown';
    return ms === null ? 'never' : seconds(ms);
  };
  return [
    {
      symbol: 'D decided',
      atRest: cell('atRest'),
      anyState: cell('anyState'),
      unit: 's',
      meaning: `an alert is always decided from${words(decided)}, but it can be lost before it is delivered`,
    },
  ];
}

function doorRows(bounds: Bounds, faults: string): readonly SheetRow[] {
  const { aliasing, unreportable, blindBandMm, gaps } = bounds;
  const fewest = aliasing === null ? 'none' : String(aliasing.openings);
  const within = aliasing === null ? '' : withinText(aliasing);
  const isAtOnce = aliasing?.openings === 1 && aliasing.withinMs === 0;
  const calmly =
    aliasing === null || faults === '' || isAtOnce ? '' : ', even when nothing goes wrong';
  const rows: SheetRow[] = [
    {
      symbol: 'A',
      atRest: isUnknown(bounds, 'aliasing') ? 'unknown' : fewest,
      anyState: none,
      unit: 'openings',
      meaning: `aliasing: this number of brief openings can look like one left open${within}${calmly}`,
    },
    {
      symbol: 'U',
      atRest: none,
      anyState: isUnknown(bounds, 'unreportable')
        ? 'unknown'
        : unreportable === null
          ? 'no'
          : 'yes',
      unit: '',
      meaning:
        'unreportable: whether the watch can reach a state from which a door left open for ever is never reported',
    },
  ];
  if (blindBandMm === null) return rows;
  if (gaps !== null) {
    const isAssumed = gaps.kind === 'assumed';
    rows.push({
      symbol: 'G',
      atRest: `over ${String(gaps.overMm)}`,
      anyState: `over ${String(gaps.overMm)}`,
      unit: 'mm',
      meaning: isAssumed
        ? `gaps for which all this holds: the file says that an open door is at ${String(gaps.opensAtLeastMm)} mm or more`
        : 'gaps for which all this holds: at smaller ones the contact can read shut',
    });
  }
  const { closing, creeping } = blindBandMm;
  rows.push(gapRow('B closing', closing, 'pulled towards shut'));
  rows.push(gapRow('B creeping', creeping, 'creeping open'));
  return rows;
}

function gapRow(symbol: string, gap: GapBandMm | null, how: string): SheetRow {
  return {
    symbol,
    atRest: gap === null ? 'none' : `${String(gap[0])} to ${String(gap[1])}`,
    anyState: none,
    unit: 'mm',
    meaning: `blind band: at these gaps a door ${how} is unsealed, but the contact reads shut`,
  };
}

export function isUnknown({ unknown }: Bounds, name: BoundName): boolean {
  return unknown.some(({ bounds }) => bounds.includes(name));
}

/** Whether an alert that is always decided can be lost before it is delivered. */
export function isDecidedSooner(bounds: Bounds, from: 'atRest' | 'anyState'): boolean {
  const { alwaysDecidedFromMs: decided, alwaysReportedFromMs: sure } = bounds;
  return !isUnknown(bounds, `alwaysReportedFromMs.${from}`) && decided[from] !== sure[from];
}

/** Exact seconds, with their three decimals. */
export function seconds(ms: number): string {
  const whole = inThousands(Math.floor(ms / 1_000), ',');
  return `${whole}.${String(ms % 1_000).padStart(3, '0')}`;
}

function word(ms: number | null): string {
  return ms === null ? '' : ` ${durationText(ms)}`;
}

/** Both values in people's units, where they exist. */
function words({ atRest, anyState }: AtRestAndAnyState): string {
  if (anyState === null || anyState === atRest) return word(atRest);
  const from = `${durationText(anyState)} from any state`;
  return atRest === null ? ` ${from}` : `${word(atRest)} (${from})`;
}

/** Of several, in which time; of one, how soon after it opens. */
function withinText({ openings, withinMs }: NonNullable<Bounds['aliasing']>): string {
  if (openings > 1) return `, within ${durationText(withinMs)}`;
  return withinMs === 0
    ? ', as soon as it opens'
    : `, at the soonest ${durationText(withinMs)} after it opens`;
}
