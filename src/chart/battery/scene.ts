// What a picture of a battery is drawn from: charges by the day, so that a quiet door and a timeline of any length
// stand side by side.
import { dayMs } from '../../base/index.js';
import {
  type Activity,
  type BatteryAnswer,
  lifeRangeText,
  type UseCost,
} from '../../battery/index.js';
import { renewalOf } from '../../wording/index.js';
import type { BatteryRun } from './day.js';

export interface BatteryInput {
  readonly answer: BatteryAnswer;
  /** The watch file as its owner named it. */
  readonly file: string;
  /** Of the first timelines, in their order: of each the day that takes most is drawn below the quiet one. */
  readonly runs?: readonly BatteryRun[] | undefined;
}

/** A use and where its charge goes. */
export interface ChargeRows {
  readonly name: string;
  /** `a charge lasts 23 d (3.3 weeks)` */
  readonly lasts: string;
  readonly rows: readonly ChargeRow[];
}

export interface ChargeRow {
  readonly words: string;
  readonly perDayNah: number;
  readonly sharePpm: number;
}

export const activityWords: Readonly<Record<Activity, string>> = {
  sleep: 'asleep',
  boot: 'wakes and checks',
  blink: 'blinks',
  connect: 'alerts sent',
  failedAttempt: 'failed attempts',
  heartbeat: 'heartbeats',
  joinWait: 'waits for network',
  hold: 'awake until reset',
  contactBias: 'closed contact',
  selfDischarge: 'self-discharge',
};

/** The most timelines that are drawn. */
const mostTimelines = 6;

/** Of timelines. A quiet door and a timeline of a single day need none: the day that is drawn has the same numbers, if it is on for all of it. */
export function chargeRows({ answer, runs = [] }: BatteryInput): readonly ChargeRows[] {
  const drawn = answer.timelines
    .slice(0, mostTimelines)
    .filter(({ cost: { lengthMs, beforePowerOnMs } }, index) =>
      index < runs.length
        ? lengthMs > dayMs || (lengthMs > 0 && beforePowerOnMs > 0)
        : lengthMs > 0,
    );
  const { lasts } = renewalOf(answer.supply);
  return drawn.map(({ name, cost }) => rowsOf(name, cost, `${lasts} ${lifeRangeText(cost)}`));
}

function rowsOf(name: string, cost: UseCost, lasts: string): ChargeRows {
  const rows = cost.parts
    .filter(({ chargeNah }) => chargeNah > 0)
    .map(({ activity, chargeNah, sharePpm }) => ({
      words: activityWords[activity],
      perDayNah: Math.round((chargeNah / cost.lengthMs) * dayMs),
      sharePpm,
    }));
  return { name, lasts, rows };
}
