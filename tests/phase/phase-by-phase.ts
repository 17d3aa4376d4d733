// Every phase the slow way: one plain run for each millisecond of the period, each judged on its own.
import { trueMs } from '../../src/base/index.js';
import type { Requirements } from '../../src/model/index.js';
import { phaseLengthOf } from '../../src/phase/index.js';
import { type Experiment, simulate } from '../../src/sim/index.js';
import { judge } from '../../src/verdict/index.js';
import type { Spans } from '../../src/world/index.js';

export interface PhaseByPhase {
  readonly summary: Readonly<Record<string, number>>;
  readonly openings: readonly {
    readonly reportedShare: number | null;
    readonly inTimeShare: number | null;
    readonly missedShare: number | null;
    readonly cutOffShare: number | null;
    readonly unpoweredShare: number | null;
    readonly falseAlarmShare: number;
    readonly unknownShare: number;
    readonly leastDelayMs: number | null;
    readonly greatestDelayMs: number | null;
  }[];
}

export function phaseByPhase(
  experiment: Experiment,
  required: Requirements,
  firstPowerOnMs: number,
  unavailable?: Spans,
): PhaseByPhase {
  const { world } = experiment;
  const phases = phaseLengthOf(experiment).lengthMs;
  const count = world.openings.fromMs.length;
  const delays: number[][] = Array.from({ length: count }, () => []);
  const reported = new Array<number>(count).fill(0);
  const inTime = new Array<number>(count).fill(0);
  const missed = new Array<number>(count).fill(0);
  const unknown = new Array<number>(count).fill(0);
  const unpowered = new Array<number>(count).fill(0);
  const cutOff = new Array<number>(count).fill(0);
  const falsely = new Array<number>(count).fill(0);
  const brief = new Array<boolean>(count).fill(false);
  const sums = { missed: 0, late: 0, falseAlarms: 0, withFalseAlarm: 0 };
  for (let phase = 0; phase < phases; phase += 1) {
    const powerOnAtMs = trueMs(firstPowerOnMs + phase);
    const trace = simulate({ ...experiment, world: { ...world, powerOnAtMs } }, { record: 'none' });
    const {
      summary,
      openings,
      alerts,
      cutOff: cut,
    } = judge(world.openings, trace, required, unavailable);
    sums.missed += summary.missed;
    sums.late += summary.late;
    sums.falseAlarms += summary.falseAlarms;
    if (summary.falseAlarms > 0) sums.withFalseAlarm += 1;
    for (let index = 0; index < count; index += 1) {
      const { outcome, delayMs } = openings.at(index);
      brief[index] = outcome === 'brief';
      const isFalse = alerts.some(({ kind, opening }) => kind === 'false' && opening === index);
      if (isFalse) falsely[index] = (falsely[index] ?? 0) + 1;
      if (outcome === 'unknown') unknown[index] = (unknown[index] ?? 0) + 1;
      if (outcome === 'missed' && cut === index) cutOff[index] = (cutOff[index] ?? 0) + 1;
      if (outcome === 'unpowered') unpowered[index] = (unpowered[index] ?? 0) + 1;
      if (outcome === 'missed' || outcome === 'unpowered') missed[index] = (missed[index] ?? 0) + 1;
      if (delayMs === null) continue;
      delays[index]?.push(delayMs);
      reported[index] = (reported[index] ?? 0) + 1;
      if (delayMs <= (required.reportWithinMs ?? delayMs)) inTime[index] = (inTime[index] ?? 0) + 1;
    }
  }
  return {
    summary: {
      expectedMissed: sums.missed / phases,
      expectedLate: sums.late / phases,
      expectedFalseAlarms: sums.falseAlarms / phases,
      falseAlarmShare: sums.withFalseAlarm / phases,
      phaseLengthMs: phases,
    },
    openings: delays.map((found, index) => {
      const isJudged = brief[index] !== true && unknown[index] !== phases;
      return {
        reportedShare: isJudged ? (reported[index] ?? 0) / phases : null,
        inTimeShare: isJudged ? (inTime[index] ?? 0) / phases : null,
        missedShare: isJudged ? (missed[index] ?? 0) / phases : null,
        cutOffShare: isJudged ? (cutOff[index] ?? 0) / phases : null,
        unpoweredShare: isJudged ? (unpowered[index] ?? 0) / phases : null,
        falseAlarmShare: (falsely[index] ?? 0) / phases,
        unknownShare: (unknown[index] ?? 0) / phases,
        leastDelayMs: found.length === 0 ? null : Math.min(...found),
        greatestDelayMs: found.length === 0 ? null : Math.max(...found),
      };
    }),
  };
}
