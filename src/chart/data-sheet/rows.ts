// The rows of a data sheet: each quantity with its least, typical and greatest value, its unit, and the conditions it holds in.
import {
  dayMs,
  durationText,
  hourMs,
  inThousands,
  meanYearMs,
  numberText,
  sentence,
} from '../../base/index.js';
import { type BatteryAnswer, batteryAnswer, currentText } from '../../battery/index.js';
import { longestDurationMs, sleepsOf } from '../../model/index.js';
import { renewalOf } from '../../wording/index.js';
import { reachedAt } from '../detection/curve.js';
import type { DetectionScene } from '../detection/scene.js';

export interface QuantityRow {
  readonly name: string;
  readonly least: string;
  readonly typical: string;
  readonly greatest: string;
  readonly unit: string;
  readonly condition: string;
}

const none = '–';

/** Exact milliseconds, in seconds. */
function seconds(ms: number | null | undefined): string {
  if (ms === null || ms === undefined) return none;
  const whole = Math.floor(ms / 1_000);
  return `${inThousands(whole, ',')}.${String(Math.round(ms) % 1_000).padStart(3, '0')}`;
}

export function quantityRows(scene: DetectionScene): readonly QuantityRow[] {
  return [...alertRows(scene), ...deviceRows(scene), ...supplyRows(scene)];
}

function alertRows({ bounds }: DetectionScene): readonly QuantityRow[] {
  const { alwaysReportedFromMs: sure, worstDelayMs: worst, neverAlarmedUpToMs: quiet } = bounds;
  const half = reachedAt(bounds.detectionCurve, 0.5);
  const halfDelay = reachedAt(bounds.delayDistribution, 0.5);
  return [
    {
      name: 'Opening that raises an alert, at rest',
      least: quiet === null ? 'none does' : seconds(quiet),
      typical: half === null ? none : seconds(Math.ceil(half)),
      greatest: sure.atRest === null ? 'no limit' : seconds(sure.atRest),
      unit: 's',
      condition: 'never up to min, half at typ, always from max',
    },
    {
      name: 'Opening that raises an alert, any state',
      least: none,
      typical: none,
      greatest: sure.anyState === null ? 'no limit' : seconds(sure.anyState),
      unit: 's',
      condition: 'always from max, whatever happened before',
    },
    {
      name: 'Detection latency, at rest',
      least: seconds(bounds.bestDelayMs),
      typical: halfDelay === null ? none : seconds(Math.ceil(halfDelay)),
      greatest: worst.atRest === null ? 'no limit' : seconds(worst.atRest),
      unit: 's',
      condition: 'to delivery; the door stays open; half by typ',
    },
    {
      name: 'Detection latency, any state',
      least: none,
      typical: none,
      greatest: worst.anyState === null ? 'no limit' : seconds(worst.anyState),
      unit: 's',
      condition: 'opening to delivery; the door stays open',
    },
  ];
}

function deviceRows({ watchFile }: DetectionScene): readonly QuantityRow[] {
  const { watch, timing, contact, sealGapUm, opensAtLeastUm } = watchFile;
  const { bootTime, connectTime } = timing;
  const [check] = sleepsOf(watch, timing);
  const range = (
    name: string,
    { least, most }: { readonly least: number; readonly most: number },
    on: { readonly typical: string; readonly condition: string },
  ): QuantityRow => ({
    name,
    least: seconds(least),
    typical: on.typical,
    greatest: seconds(most),
    unit: 's',
    condition: on.condition,
  });
  const mm = (um: number): string => String(um / 1_000);
  return [
    range(
      'Time between checks',
      { least: check.leastMs + bootTime.least, most: check.mostMs + bootTime.most },
      {
        typical:
          bootTime.least === bootTime.most ? seconds(watch.checkIntervalMs + bootTime.least) : none,
        condition: 'door shut; sleep with clock error, and boot time',
      },
    ),
    range('Boot time', bootTime, { typical: none, condition: 'wake to check' }),
    range('Connect time', connectTime, {
      typical: none,
      condition: 'check to delivery, network up',
    }),
    ...(contact === null
      ? []
      : [
          {
            name: 'Contact gap',
            least: mm(contact.operateGapUm),
            typical: none,
            greatest: mm(contact.releaseGapUm),
            unit: 'mm',
            condition: 'shut at min as it closes, open over max as it opens',
          },
        ]),
    {
      name: 'Gap of the door',
      least: opensAtLeastUm === null ? mm(sealGapUm) : mm(opensAtLeastUm),
      typical: none,
      greatest: none,
      unit: 'mm',
      condition: opensAtLeastUm === null ? 'open over min' : 'it never rests open at less than min',
    },
  ];
}

function supplyRows({ watchFile }: DetectionScene): readonly QuantityRow[] {
  const { watch, timing, supply } = watchFile;
  if (supply === null) return [];
  const answer = batteryAnswer({ watch, timing, supply, timelines: [], measured: null });
  const { quiet } = answer;
  const [current = '', amperes = ''] = splitUnit(currentText(Math.round(quiet.meanNa)));
  return [
    {
      name: 'Mean current',
      least: none,
      typical: current,
      greatest: none,
      unit: amperes,
      condition: 'a door that nobody opens, with self-discharge',
    },
    lifeRow(quiet, renewalOf(supply).lasts),
  ];
}

/** In the unit of the shortest. Of cells of one kind, by what they may hold. */
function lifeRow({ lifeMs, cells }: BatteryAnswer['quiet'], lasts: string): QuantityRow {
  const shortest = cells === null ? lifeMs : cells.leastMs;
  const [unit, unitMs] =
    lifeUnits.find(([, , fromMs]) => (shortest ?? Infinity) >= fromMs) ?? lastUnit;
  const inUnit = (ms: number | null): string =>
    ms === null
      ? `over ${numberText(Math.floor(longestDurationMs / unitMs))}`
      : numberText(
          unit === 'years' ? Math.floor((10 * ms) / unitMs) / 10 : Math.floor(ms / unitMs),
        );
  return {
    name: sentence(lasts).replace(/\.$/u, ''),
    least: cells === null ? none : inUnit(cells.leastMs),
    typical: inUnit(lifeMs),
    greatest: cells === null ? none : inUnit(cells.mostMs),
    unit,
    condition: `a door that nobody opens; alerts shorten it${cells === null ? '' : '; by what the cells hold'}`,
  };
}

/** A unit, its length, and from which life on it is taken. */
type LifeUnit = readonly [name: string, unitMs: number, fromMs: number];

const lastUnit: LifeUnit = ['h', hourMs, 0];
const lifeUnits: readonly LifeUnit[] = [
  ['years', meanYearMs, 2 * meanYearMs],
  ['d', dayMs, 2 * dayMs],
  lastUnit,
];

function splitUnit(text: string): readonly string[] {
  return text.split(' ');
}

export interface OrderPart {
  readonly code: string;
  readonly meaning: string;
}

/** The watch as one line of codes, as a part is ordered. */
export function orderParts({ watchFile }: DetectionScene): readonly OrderPart[] {
  const { watch, judge } = watchFile;
  const { open, outOf } = watch.escalationThreshold;
  const short = (ms: number): string => durationText(ms).replaceAll(' ', '').replaceAll('min', 'm');
  return [
    { code: short(watch.checkIntervalMs), meaning: 'check every' },
    { code: short(watch.recheckIntervalMs), meaning: 'recheck after an open check' },
    { code: `${String(open)}/${String(outOf)}`, meaning: 'open checks, of the last' },
    { code: String(watch.clearThreshold), meaning: 'shut checks to clear' },
    { code: short(watch.alertCooldownMs), meaning: 'cooldown' },
    { code: watch.wakeOn, meaning: 'woken by' },
    { code: watch.afterAlert, meaning: 'after an alert' },
    { code: short(judge.leaveOpenAfterMs), meaning: 'left open from' },
  ];
}
