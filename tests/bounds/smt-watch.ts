// A watch that its timer wakes, written again as linear arithmetic for an SMT solver: the wakes one after the other, with
// every time and every reading of the contact free. From the rules of the device alone; it shares nothing with src/.
import type { Arith, Bool, Context } from 'z3-solver';

type Z3 = Context<'watch'>;
type Int = Arith<'watch'>;
type Truth = Bool<'watch'>;

/** A watch in plain numbers, in milliseconds and parts per million. */
export interface SmtWatch {
  readonly check: number;
  readonly recheck: number;
  readonly retry: number;
  readonly attempts: number;
  readonly open: number;
  readonly outOf: number;
  readonly clear: number;
  readonly cooldown: number;
  readonly shutEndsCooldown: boolean;
  readonly drop: boolean;
  readonly boot: readonly [least: number, most: number];
  readonly connect: readonly [least: number, most: number];
  readonly error: readonly [least: number, most: number];
  readonly outage: number;
}

/** Right after a check, before what it leads to. */
interface State {
  readonly atMs: Int;
  /** The device's clock. */
  readonly clockMs: Int;
  readonly open: Truth;
  readonly escalated: Truth;
  /** The last `outOf` checks, the newest first: read open? */
  readonly memory: readonly Truth[];
  readonly shutRun: Int;
  readonly pending: Truth;
  readonly fails: Int;
  readonly cooling: Truth;
  readonly deliveredClockMs: Int;
  readonly decided: Truth;
  /** The pending alert was decided in the opening in question. */
  readonly own: Truth;
}

export interface Run {
  /** What the rules say of all variables. */
  readonly rules: readonly Truth[];
  readonly lastsMs: Int;
  /** The opening has ended by the last of the checks. */
  readonly isOver: Truth;
  /** An alert is decided while the door is open, in the opening in question. */
  readonly alerted: Truth;
  /** From its start to the delivery of its own alert; only where it is delivered in the run. */
  readonly delivered: Truth;
  readonly delayMs: Int;
  /** Within the run it ends, no alert of its own has been delivered, and none is pending any more. */
  readonly lost: Truth;
}

export interface Start {
  /** The opening meets the device at rest; in any state of its memory; or this many checks after its first power-on. */
  readonly from: 'rest' | 'any state' | number;
  /** Checks from the start of the opening on. */
  readonly checks: number;
}

export function encoded(z3: Z3, watch: SmtWatch, { from, checks }: Start): Run {
  const rules: Truth[] = [];
  let named = 0;
  const int = (least: number | Int, most?: number | Int): Int => {
    const value = z3.Int.const(`i${String((named += 1))}`);
    rules.push(value.ge(least));
    if (most !== undefined) rules.push(value.le(most));
    return value;
  };
  const within = ([least, most]: readonly [number, number]): Int =>
    least === most ? z3.Int.val(least) : int(least, most);
  const bool = (): Truth => z3.Bool.const(`b${String((named += 1))}`);
  const no = z3.Bool.val(false);
  const zero = z3.Int.val(0);
  const choose = (when: Truth, one: Int | number, other: Int | number): Int =>
    z3.If<Int, Int>(
      when,
      typeof one === 'number' ? z3.Int.val(one) : one,
      typeof other === 'number' ? z3.Int.val(other) : other,
    );
  const count = (bits: readonly Truth[]): Int =>
    z3.Sum(zero, ...bits.map((bit) => choose(bit, 1, 0)));

  const [slow, fast] = [watch.error[0], watch.error[1]];
  const stretched = (ms: number, ppm: number): number => ms + Math.trunc((ms * ppm) / 1e6);
  const drifts = slow !== fast;
  const fromMs = int(0);
  const lastsMs = int(1);
  const downMs = int(-1_000_000_000);
  const upMs = int(downMs, downMs.add(watch.outage));
  const isOpen = (atMs: Int): Truth => z3.And(atMs.ge(fromMs), atMs.lt(fromMs.add(lastsMs)));

  const hasCooled = (at: Pick<State, 'clockMs' | 'deliveredClockMs'>): Truth => {
    const sinceMs = at.clockMs.sub(at.deliveredClockMs);
    const neededMs = drifts ? watch.cooldown : Math.ceil((watch.cooldown * (1e6 + slow)) / 1e6);
    return sinceMs.ge(neededMs);
  };

  /** The check after `before`, which reads what `reading` says at its instant. */
  const checked = (
    before: Omit<State, 'open' | 'escalated' | 'decided'>,
    reading: (atMs: Int) => Truth,
  ): State => {
    const { atMs, clockMs } = before;
    const open = reading(atMs);
    const shutRun = choose(open, 0, before.shutRun.add(1));
    const cleared = z3.And(z3.Not(open), shutRun.ge(watch.clear));
    const shifted = [open, ...before.memory.slice(0, watch.outOf - 1)];
    const memory = shifted.map((bit) => z3.And(bit, z3.Not(cleared)));
    const ended = z3.Or(hasCooled(before), watch.shutEndsCooldown ? cleared : no);
    const cooling = z3.And(before.cooling, z3.Not(ended));
    const kept = watch.drop ? z3.And(before.pending, open) : before.pending;
    const escalated = z3.And(open, count(memory).ge(watch.open));
    const decided = z3.And(escalated, z3.Not(kept), z3.Not(cooling));
    const inOpening = z3.And(atMs.ge(fromMs), atMs.lt(fromMs.add(lastsMs)));
    return {
      ...{ atMs, clockMs, open, escalated, memory, shutRun, cooling, decided },
      pending: z3.Or(kept, decided),
      fails: before.fails,
      deliveredClockMs: before.deliveredClockMs,
      own: z3.Or(z3.And(kept, before.own), z3.And(decided, inOpening)),
    };
  };

  /** What `state` leads to: perhaps an attempt, then sleep and boot, up to the next check. */
  const worked = (state: State) => {
    const connectMs = within(watch.connect);
    const workMs = choose(state.pending, connectMs, 0);
    const endMs = state.atMs.add(workMs);
    const endClockMs = state.clockMs.add(workMs);
    const up = watch.outage === 0 ? z3.Bool.val(true) : z3.Or(endMs.lt(downMs), endMs.ge(upMs));
    const delivered = z3.And(state.pending, up);
    const failed = z3.And(state.pending, z3.Not(up));
    const retries = z3.And(failed, state.fails.add(1).lt(watch.attempts));
    const rechecks = z3.And(z3.Not(state.pending), state.open, z3.Not(state.escalated));
    const nominalMs = choose(retries, watch.retry, choose(rechecks, watch.recheck, watch.check));
    const lengthMs = (ppm: number): Int =>
      choose(
        retries,
        stretched(watch.retry, ppm),
        choose(rechecks, stretched(watch.recheck, ppm), stretched(watch.check, ppm)),
      );
    const sleepMs = drifts ? int(lengthMs(slow), lengthMs(fast)) : lengthMs(slow);
    const bootMs = within(watch.boot);
    const next = {
      ...state,
      atMs: endMs.add(sleepMs).add(bootMs),
      clockMs: endClockMs.add(drifts ? nominalMs : sleepMs).add(bootMs),
      pending: failed,
      fails: choose(retries, state.fails.add(1), 0),
      cooling: watch.cooldown === 0 ? no : z3.Or(delivered, state.cooling),
      deliveredClockMs: choose(delivered, endClockMs, state.deliveredClockMs),
    };
    return { endMs, delivered: z3.And(delivered, state.own), next };
  };

  const forgotten = {
    ...{ atMs: zero, clockMs: zero, shutRun: zero, pending: no, fails: zero, cooling: no, own: no },
    ...{ deliveredClockMs: zero, memory: Array.from({ length: watch.outOf }, () => no) },
  };
  const begin = (last: State): State => {
    // An open door must shut, and open again, between two checks.
    rules.push(fromMs.ge(choose(last.open, last.atMs.add(2), last.atMs.add(1))));
    const first = worked(last).next;
    rules.push(fromMs.le(first.atMs));
    return checked({ ...first, own: no }, isOpen);
  };
  const start = (): State => {
    if (from === 'rest') return begin(checked(forgotten, () => no));
    if (from === 'any state') return begin(anyState());
    const bootMs = within(watch.boot);
    let last = checked({ ...forgotten, atMs: bootMs, clockMs: bootMs }, bool);
    for (let index = 1; index < from; index += 1) last = checked(worked(last).next, bool);
    return begin(last);
  };
  /** Whatever can stand in its memory, and more: what it cannot come to is only kept out where it matters. */
  const anyState = (): State => {
    const open = bool();
    const memory = Array.from({ length: watch.outOf }, bool);
    const shutRun = int(0, watch.clear);
    const cooling = watch.cooldown === 0 ? no : bool();
    const sleptMs = drifts ? watch.check : stretched(watch.check, slow);
    const deliveredClockMs = int(-1_000_000_000, -sleptMs - watch.boot[0]);
    const pending = bool();
    const escalated = z3.And(open, count(memory).ge(watch.open));
    rules.push(
      z3.Implies(open, z3.And(memory[0] ?? no, shutRun.eq(0))),
      z3.Implies(z3.Not(open), z3.And(z3.Not(memory[0] ?? no), shutRun.ge(1))),
      z3.Implies(
        shutRun.ge(watch.clear),
        z3.And(z3.Not(z3.Or(no, ...memory)), watch.shutEndsCooldown ? z3.Not(cooling) : z3.Not(no)),
      ),
      z3.Implies(escalated, z3.Or(pending, cooling)),
      z3.Implies(pending, escalated),
      z3.Implies(pending, z3.Not(cooling)),
      z3.Implies(cooling, z3.Not(hasCooled({ clockMs: zero, deliveredClockMs }))),
    );
    return {
      ...{ atMs: zero, clockMs: zero, open, escalated, memory, shutRun, cooling },
      ...{ deliveredClockMs, pending, fails: zero, decided: no, own: no },
    };
  };

  const decisions: Truth[] = [];
  let delivered: Truth = no;
  let delayMs: Int = int(0);
  let state = start();
  for (let index = 0; index < checks; index += 1) {
    decisions.push(z3.And(state.decided, isOpen(state.atMs)));
    const { endMs, delivered: now, next } = worked(state);
    delayMs = choose(z3.And(now, z3.Not(delivered)), endMs.sub(fromMs), delayMs);
    delivered = z3.Or(delivered, now);
    state = checked(next, isOpen);
  }
  const isOver = state.atMs.ge(fromMs.add(lastsMs));
  const waits = z3.And(state.pending, state.own);
  const lost = z3.And(isOver, z3.Not(delivered), z3.Not(waits));
  return { rules, lastsMs, isOver, alerted: z3.Or(no, ...decisions), delivered, delayMs, lost };
}
