// Heartbeats that did not come before the last message: in each gap between the messages, from the charge on.
import { dayMs, trueMs } from '../../base/index.js';
import { type MissingChecks, missingHeartbeats } from '../../compare/index.js';
import { answerAfterMs } from '../../model/index.js';
import type { DeviceLogRow, WatchFile } from '../../scenarios/index.js';
import { answerOf } from '../../silence/index.js';
import { deviceTiming, noSpans } from '../../world/index.js';

export interface MissingBeats {
  /** Instants since the epoch; `beforeMs` is null behind the last heartbeat. */
  readonly gaps: readonly MissingChecks[];
  /** About. */
  readonly count: number;
}

export interface Since {
  readonly chargedMs: number;
  readonly chargedLocalMs: number;
  /** Only the day of the charge is known. */
  readonly isDay: boolean;
}

/** Nobody notes the minute at which a battery was charged. */
const roughMs = 3_600_000;

export function missingBeats(
  rows: readonly DeviceLogRow[],
  watchFile: WatchFile,
  since: Since,
): MissingBeats {
  const { chargedMs } = since;
  const came = rows
    .filter((row) => row.atMs >= chargedMs && (!('delivered' in row) || row.delivered))
    .map((row) => ({ ...row, atMs: row.atMs - chargedMs }));
  const { missing } = missingHeartbeats(withResets(came, watchFile, since), {
    watch: watchFile.watch,
    timing: deviceTiming({}, watchFile.timing),
    world: { networkDown: noSpans, powerLost: noSpans, lengthMs: trueMs(came.at(-1)?.atMs ?? 0) },
    roughStartMs: since.isDay ? dayMs : roughMs,
  });
  const gaps = missing.map((gap) => ({
    ...gap,
    afterMs: gap.afterMs + chargedMs,
    beforeMs: gap.beforeMs === null ? null : gap.beforeMs + chargedMs,
  }));
  return { gaps, count: gaps.reduce((sum, gap) => sum + gap.count, 0) };
}

/** Of a normal distribution: 95 % are below this many standard deviations. */
const mostDeviations = 1.645;

/** A receiver does not see resets. A message after an alert that holds means that somebody came: by then, in 95 % of cases. */
function withResets(
  rows: readonly DeviceLogRow[],
  watchFile: WatchFile,
  { chargedLocalMs }: { readonly chargedLocalMs: number },
): readonly DeviceLogRow[] {
  const { afterAlert: delay } = answerOf(watchFile);
  if (watchFile.watch.afterAlert !== 'hold-until-reset' || delay === null) return rows;
  return rows.flatMap((row, index): readonly DeviceLogRow[] => {
    const next = rows[index + 1];
    if (row.event !== 'alert' || next === undefined) return [row];
    const answerMs =
      delay.kind === 'lognormal'
        ? delay.medianMs * Math.exp(mostDeviations * delay.sigma)
        : answerAfterMs(delay, chargedLocalMs + row.atMs);
    const resetMs = row.atMs + Math.round(answerMs);
    if (resetMs >= next.atMs) return [row];
    return [row, { event: 'reset', atMs: resetMs, source: row.source }];
  });
}
