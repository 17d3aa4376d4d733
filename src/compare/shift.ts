// Whether a device log fits its door once all its times are moved by whole hours: a time zone or summer time that was
// taken for another one.
import { hourMs } from '../base/index.js';
import { type Comparison, compareDevice, type DeviceQuestion } from './compare.js';

/** Two zones that people mix up lie at most 14 hours apart. */
const mostHours = 14;

/** Fewer contradictions than these may be chance or a real fault. */
const fewestWrong = 2;

/** A shift explains the contradictions if at most this share of them is left. */
const mostLeft = 0.2;

export interface HourShift {
  /** By which the times of the device log have to be later. */
  readonly hours: number;
  /** Contradictions without it, and with it. */
  readonly wrong: number;
  readonly wrongThen: number;
}

/** Null: the log fits as it is, or no shift makes it fit. */
export function hourShiftOf(question: DeviceQuestion, found: Comparison): HourShift | null {
  const wrong = wrongIn(found);
  if (wrong < fewestWrong) return null;
  let best: HourShift | null = null;
  for (let near = 1; near <= mostHours; near += 1) {
    for (const hours of [near, -near]) {
      const rows = question.rows.map((row) => ({ ...row, atMs: row.atMs + hours * hourMs }));
      const then = compareDevice({ ...question, rows });
      const wrongThen = wrongIn(then);
      if (wrongThen > wrong * mostLeft || !showsAnOpening(then, found, rows, question)) continue;
      if (best === null || wrongThen < best.wrongThen) best = { hours, wrong, wrongThen };
    }
  }
  return best;
}

/** What the device did that its door and its watch contradict. Checks that are missing say nothing of a shift. */
function wrongIn({ misreadings, alerts }: Comparison): number {
  return misreadings.length + alerts.length;
}

/** Most of the log is still within the timeline, and it has seen the door open there: a log of a shut door fits anywhere. */
function showsAnOpening(
  then: Comparison,
  found: Comparison,
  rows: DeviceQuestion['rows'],
  { world }: DeviceQuestion,
): boolean {
  const events = then.checks + then.alertsDelivered;
  if (2 * events < found.checks + found.alertsDelivered) return false;
  const isWithin = (atMs: number): boolean => atMs >= 0 && atMs < world.lengthMs;
  return rows.some(
    (row) =>
      isWithin(row.atMs) &&
      ((row.event === 'check' && row.contact === 'open') ||
        (row.event === 'alert' && row.delivered)),
  );
}
