// Do two programs behave alike, whatever the world does? Both tables are walked side by side over every input that
// can come: where each reaction does the same, for the same lengths of sleep, no run shows a difference.
import {
  type ContactReading,
  codeOf,
  type DeviceInput,
  effectBit,
  inputCode,
  inputCodes,
  type LogicTable,
  nominalSleepIn,
  type WakeCause,
} from '../machine/index.js';
import type { Program } from '../sim/index.js';

/** The state of the cooldown's clock: no alert delivered since power-on, its time running, or run out. */
type CooldownTime = 'none' | 'running' | 'over';

/** Where both stand after the same inputs. */
interface Pair {
  readonly one: number;
  readonly other: number;
  readonly oneTime: CooldownTime;
  readonly otherTime: CooldownTime;
}

/** Alike for certain. False may also mean: unlike only where time does not let them be. */
export function behavesAlike(one: Program, other: Program): boolean {
  // Mistakes with clocks and counters show sooner or later.
  if (other.slips !== undefined) return false;
  if (one.watch.wakeOn !== other.watch.wakeOn) return false;
  if (one.watch.heartbeatIntervalMs !== other.watch.heartbeatIntervalMs) return false;
  if (JSON.stringify(one.watch.lowBattery) !== JSON.stringify(other.watch.lowBattery)) return false;
  const queue: Pair[] = [
    { one: one.table.initial, other: other.table.initial, oneTime: 'none', otherTime: 'none' },
  ];
  const seen = new Set<string>();
  for (const pair of queue) {
    const key = `${pair.one},${pair.other},${pair.oneTime},${pair.otherTime}`;
    if (seen.has(key)) continue;
    seen.add(key);
    for (const step of stepsOf(one, other, pair)) {
      if (doneBy(one, pair.one, step.oneCode) !== doneBy(other, pair.other, step.otherCode)) {
        return false;
      }
      const next = nextOf(one.table, pair.one, step.oneCode);
      if (next < 0) continue;
      const otherNext = nextOf(other.table, pair.other, step.otherCode);
      queue.push({ one: next, other: otherNext, ...step.times });
    }
  }
  return true;
}

interface Step {
  readonly oneCode: number;
  readonly otherCode: number;
  readonly times: Pick<Pair, 'oneTime' | 'otherTime'>;
}

const sends = [
  inputCode.alertFailed,
  inputCode.heartbeatFailed,
  inputCode.heartbeatDelivered,
  inputCode.lowBatteryFailed,
  inputCode.lowBatteryDelivered,
] as const;

/** Every input that can come to such a pair, as a column for each. */
function stepsOf(one: Program, other: Program, { oneTime, otherTime }: Pair): readonly Step[] {
  const times = { oneTime, otherTime };
  const same = (code: number): Step => ({ oneCode: code, otherCode: code, times });
  const causes: readonly WakeCause[] = ['power-on', 'reset', 'timer'];
  const wakes = one.watch.wakeOn === 'timer' ? causes : [...causes, 'contact' as const];
  return [
    ...wakes.map((cause) => same(inputCode.wake[cause])),
    ...sends.map(same),
    {
      ...same(inputCode.alertDelivered),
      times: { oneTime: begun(one), otherTime: begun(other) },
    },
    { ...same(inputCode.powerLost), times: { oneTime: 'none', otherTime: 'none' } },
    ...checksOf(one, other, times),
  ];
}

function begun({ watch }: Program): CooldownTime {
  return watch.alertCooldownMs === 0 ? 'over' : 'running';
}

function checksOf(one: Program, other: Program, times: Step['times']): readonly Step[] {
  const readings: readonly ContactReading[] = ['open', 'shut'];
  const due = one.watch.heartbeatIntervalMs === null ? [false] : [false, true];
  const low = one.watch.lowBattery === undefined ? [false] : [false, true];
  const dues = due.flatMap((heartbeatDue) =>
    low.map((lowBatteryDue) => ({ heartbeatDue, lowBatteryDue })),
  );
  const steps: Step[] = [];
  for (const [oneOver, otherOver] of cooldownFacts(one, other, times)) {
    const after = {
      oneTime: oneOver && times.oneTime === 'running' ? 'over' : times.oneTime,
      otherTime: otherOver && times.otherTime === 'running' ? 'over' : times.otherTime,
    } as const;
    for (const contact of readings) {
      for (const facts of dues) {
        const check = (cooldownOver: boolean): DeviceInput => ({
          type: 'check',
          contact,
          cooldownOver,
          ...facts,
        });
        steps.push({
          oneCode: codeOf(check(oneOver)),
          otherCode: codeOf(check(otherOver)),
          times: after,
        });
      }
    }
  }
  return steps;
}

/** Whether each cooldown's time is over: they were begun together, and the shorter one is over first. */
function cooldownFacts(
  one: Program,
  other: Program,
  { oneTime, otherTime }: Step['times'],
): readonly (readonly [boolean, boolean])[] {
  const facts = [
    [true, true],
    [true, false],
    [false, true],
    [false, false],
  ] as const;
  const longer = one.watch.alertCooldownMs - other.watch.alertCooldownMs;
  return facts.filter(([oneOver, otherOver]) => {
    if ((!oneOver && oneTime !== 'running') || (!otherOver && otherTime !== 'running'))
      return false;
    if (oneTime !== 'running' || otherTime !== 'running') return true;
    if (longer >= 0 && oneOver && !otherOver) return false;
    return !(longer <= 0 && otherOver && !oneOver);
  });
}

function nextOf({ next }: LogicTable, state: number, code: number): number {
  return next[state * inputCodes + code] ?? -1;
}

/** What a reaction does, the sleep by its length, as one number; −1 for an input that cannot come. */
function doneBy({ table, watch }: Program, state: number, code: number): number {
  if (nextOf(table, state, code) < 0) return -1;
  const effects = table.effects[state * inputCodes + code] ?? 0;
  // A cell of effects has 16 bits.
  return (effects & ~effectBit.sleepMask) + (nominalSleepIn(effects, watch) ?? 0) * 65_536;
}
