// How a device is lived with, from its watch file: who answers, who charges, and what messages meet.
import { randomStream, trueMs } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';
import {
  type AnswerSettings,
  answerAfterMs,
  type DeliverySettings,
  type SupplySettings,
} from '../model/index.js';
import type { Experiment, Program, Trace } from '../sim/index.js';
import { drawDuration } from './profile/draw.js';
import { localTime } from './time/local-time.js';
import type { Timeline, WatchFile } from './types.js';
import { chargePlanOf } from './watch/answer-fields.js';

/** As plain data, for threads. */
export interface Living {
  readonly answer: AnswerSettings | null;
  readonly delivery: DeliverySettings;
  readonly supply: SupplySettings | null;
  /** Whether a reset by button clears retained memory. */
  readonly buttonClears: boolean;
}

export function livingOf({ answer, delivery, supply, reset }: WatchFile): Living {
  return { answer, delivery, supply, buttonClears: reset.button === 'clears' };
}

/** Nothing is noticed before this share of a heartbeat interval has passed in silence. */
const silentIntervals = 1.5;

/**
 * What people do in a run with this seed. The charge is drained only where somebody charges it.
 * @param startLocalMs the local time at the timeline's start, in ms of the day.
 */
export function livedWith(
  { answer, supply, delivery, buttonClears }: Living,
  watch: WatchSettings,
  on: { readonly seed: string; readonly startLocalMs: number },
): Pick<Experiment, 'charge' | 'answers'> {
  if (answer === null) return {};
  const { afterAlert, afterMissedHeartbeatMs, charges } = answer;
  const beat = watch.heartbeatIntervalMs;
  const isLost = (kind: MessageKind, deliveredMs: number): boolean =>
    isLostAt(deliveredMs, delivery, { seed: on.seed, kind });
  const alertAfterMs = (deliveredMs: number, index: number): number => {
    // Nobody answers what they never see.
    if (isLost('alert', deliveredMs)) return Number.POSITIVE_INFINITY;
    if (afterAlert?.kind !== 'lognormal') {
      return afterAlert === null ? 0 : answerAfterMs(afterAlert, on.startLocalMs + deliveredMs);
    }
    const { medianMs, sigma } = afterAlert;
    const stream = randomStream(on.seed, 'answers', index);
    return drawDuration({ kind: 'lognormal', medianMs: trueMs(medianMs), sigma }, stream);
  };
  const silence =
    beat === null || afterMissedHeartbeatMs === null
      ? null
      : {
          noticedAfterMs: Math.ceil(beat * silentIntervals),
          comesAfterMs: afterMissedHeartbeatMs,
          ...(delivery.lostPpm === 0
            ? {}
            : { isHeartbeatSeen: (deliveredMs: number) => !isLost('heartbeat', deliveredMs) }),
        };
  return {
    charge:
      supply === null || charges === null
        ? null
        : {
            supply,
            charging: charges,
            isWarningSeen: (deliveredMs) => !isLost('lowBattery', deliveredMs),
          },
    answers: {
      alertAfterMs: afterAlert === null ? null : alertAfterMs,
      silence,
      clears: buttonClears,
    },
  };
}

/** Each kind has its own draws: a low-battery message can arrive at the same instant as an alert. */
const lostStreams = {
  alert: 'lost messages',
  heartbeat: 'lost heartbeats',
  lowBattery: 'lost low-battery messages',
} as const;
type MessageKind = keyof typeof lostStreams;

/** Whether the message delivered at this instant is lost on its further way. */
function isLostAt(
  deliveredMs: number,
  { lostPpm }: DeliverySettings,
  { seed, kind }: { readonly seed: string; readonly kind: MessageKind },
): boolean {
  if (lostPpm === 0) return false;
  return randomStream(seed, lostStreams[kind], deliveredMs).unit() * 1e6 < lostPpm;
}

/**
 * What a replay adds to a timeline: the supply that it drains, with the charges of the watch file, and where its door is drawn from
 * a profile, the people.
 */
function peopleOf(
  { start, isGenerated = false, seed }: Timeline,
  watchFile: WatchFile,
): Pick<Experiment, 'charge' | 'answers'> {
  const charge = chargePlanOf(watchFile);
  if (!isGenerated) return { charge };
  const { time, millisecond } = localTime(start, 0);
  const [hours = 0, minutes = 0, seconds = 0] = time.split(':').map(Number);
  const startLocalMs = ((hours * 60 + minutes) * 60 + seconds) * 1_000 + millisecond;
  const { answers = null } = livedWith(livingOf(watchFile), watchFile.watch, {
    seed,
    startLocalMs,
  });
  return { charge, answers };
}

/** What a replay of a timeline runs. */
export function experimentOf(
  timeline: Timeline,
  { program, watchFile }: { readonly program: Program; readonly watchFile: WatchFile },
): Experiment {
  const { timing, world, seed } = timeline;
  return { program, timing, world, seed, ...peopleOf(timeline, watchFile) };
}

/** The two together, as simulated years take them; a year begins at midnight. */
export function yearsLivedWith(living: Living): {
  readonly livedWith: (
    watch: WatchSettings,
    seed: string,
  ) => Pick<Experiment, 'charge' | 'answers'>;
  readonly asSeen: (trace: Trace, seed: string) => Trace;
} {
  return {
    livedWith: (watch, seed) => livedWith(living, watch, { seed, startLocalMs: 0 }),
    asSeen: (trace, seed) => asSeen(trace, living, seed),
  };
}

/** The alerts as somebody saw them: some are lost after their delivery, the others seen a while later. */
export function asSeen(trace: Trace, { delivery }: Living, seed: string): Trace {
  const { lostPpm, seenAfterMs } = delivery;
  if (lostPpm === 0 && seenAfterMs === 0) return trace;
  const alerts = trace.alerts.map((alert) => {
    const { deliveredMs } = alert;
    if (deliveredMs === null) return alert;
    const isLost = isLostAt(deliveredMs, delivery, { seed, kind: 'alert' });
    return { ...alert, deliveredMs: isLost ? null : deliveredMs + seenAfterMs };
  });
  return { ...trace, alerts };
}
