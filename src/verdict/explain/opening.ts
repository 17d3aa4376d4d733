// Why a leave-open was missed or reported late, as claims.
import { invariant, itemAt } from '../../base/index.js';
import { openChecks } from '../../machine/index.js';
import type { AlertRecord } from '../../sim/index.js';
import { firstAfter } from '../../world/index.js';
import type { JudgedOpening, JudgedOpenings } from '../judgement.js';
import type { AttemptCounts, Circumstance, Clause, ClauseOf, Fates } from './clause.js';
import {
  alertAfter,
  checksIn,
  countOf,
  countsLostIn,
  type Evidence,
  firstCheckFrom,
  heldMsIn,
  heldThroughout,
  lastCheckBefore,
  lastHoldIn,
  offMsAtEnd,
  offMsIn,
  readOpenAtEnd,
  type SeenChecks,
  type Span,
  sendingMsIn,
  wakesCutIn,
} from './evidence.js';

/** The reason for a missed or late leave-open, and the checks that it rests on. */
export function explainOpening(
  evidence: Evidence,
  index: number,
): { readonly clauses: readonly Clause[]; readonly checks: readonly SeenChecks[] } {
  const opening = seenPart(evidence.verdict.openings, index);
  const { fromMs, durationMs } = opening;
  const span = { fromMs, toMs: fromMs + durationMs };
  const checks = checksIn(evidence.trace, span);
  const own = evidence.trace.alerts.filter(
    ({ decidedMs }, at) => evidence.verdict.alerts[at]?.opening === index && decidedMs < span.toMs,
  );
  if (opening.outcome === 'late') return { clauses: lateReason(evidence, opening, own), checks };
  if (opening.outcome === 'unpowered') {
    return { clauses: unpoweredReason(evidence, { opening, span, checks, own }), checks };
  }
  const clauses =
    own.length > 0 ? [undelivered(evidence, own)] : notDecided(evidence, { opening, span, checks });
  return { clauses, checks };
}

/** An opening, or the part of it that was seen before the log lost the door. */
function seenPart(openings: JudgedOpenings, index: number): JudgedOpening {
  const opening = openings.at(index);
  const seenMs = openings.seenMs(index);
  if (seenMs === null) return opening;
  return { ...opening, durationMs: seenMs, toMs: opening.fromMs + seenMs };
}

/** How the attempts of some alerts that failed, or were cut off, ended. */
function attemptsOf(
  { experiment: { world }, trace }: Evidence,
  alerts: readonly AlertRecord[],
): AttemptCounts {
  const counts = { failed: 0, cutByReset: 0, cutByPower: 0, cutByCharge: 0, cutByEnd: 0 };
  const { fromMs } = world.powerLost;
  for (const { attempts } of alerts) {
    for (const { endMs, outcome } of attempts) {
      if (outcome === 'failed') counts.failed += 1;
      if (outcome !== 'cutOff') continue;
      if (endMs >= trace.lengthMs) counts.cutByEnd += 1;
      else if (trace.flat.some((off) => off.fromMs === endMs)) counts.cutByCharge += 1;
      else if (fromMs[firstAfter(fromMs, endMs) - 1] === endMs) counts.cutByPower += 1;
      else counts.cutByReset += 1;
    }
  }
  return counts;
}

function fatesOf({ faults, trace }: Evidence, alerts: readonly AlertRecord[]): Fates {
  const fates = { forgotten: 0, emptied: 0, cleared: 0, dropped: 0, unsent: 0 };
  for (const { forgottenMs, droppedMs } of alerts) {
    if (forgottenMs !== null) {
      const isEmpty = trace.flat.some((off) => off.fromMs === forgottenMs);
      const how = isEmpty ? 'emptied' : isReset(faults, forgottenMs) ? 'cleared' : 'forgotten';
      fates[how] += 1;
    } else if (droppedMs !== null) fates.dropped += 1;
    else fates.unsent += 1;
  }
  return fates;
}

function isReset({ atMs, backMs }: Evidence['faults'], ms: number): boolean {
  const fault = firstAfter(atMs, ms) - 1;
  return atMs[fault] === ms && backMs[fault] === ms;
}

/** Of alerts none of which was delivered. */
export function undelivered(evidence: Evidence, own: readonly AlertRecord[]): Clause {
  return {
    kind: 'undelivered',
    fates: fatesOf(evidence, own),
    attempts: attemptsOf(evidence, own),
  };
}

function lateReason(
  evidence: Evidence,
  { delayMs, fromMs }: JudgedOpening,
  own: readonly AlertRecord[],
): readonly Clause[] {
  const at = own.findIndex(({ deliveredMs }) => deliveredMs !== null);
  const delivered = own[at];
  const { reportWithinMs } = evidence.asked;
  invariant(
    delivered !== undefined && delayMs !== null && reportWithinMs !== null,
    'a late opening has its delivery and its limit',
    { fromMs },
  );
  const span = { fromMs, toMs: delivered.decidedMs };
  const checks = checksIn(evidence.trace, span);
  const earlier = own.slice(0, at);
  const afterMs = delivered.decidedMs - fromMs;
  const attempts = attemptsOf(evidence, [delivered]);
  const clauses: Clause[] = [
    { kind: 'late', byMs: delayMs - reportWithinMs },
    { kind: 'decided', afterMs, sentForMs: delayMs - afterMs, attempts },
  ];
  if (earlier.length > 0) clauses.push({ kind: 'earlier', fates: fatesOf(evidence, earlier) });
  // From its own first alert on the attempts are that one's.
  const before = checksIn(evidence.trace, { fromMs, toMs: itemAt(own, 0).decidedMs });
  const what = [
    ...unsentBefore(evidence, fromMs, before),
    ...quietIn(evidence, fromMs, checks),
    ...circumstances(evidence, span, checks),
  ];
  return [...clauses, ...meanwhile('decision', what)];
}

/** The charge comes first; where the device was on for a while, what it did then follows. */
function unpoweredReason(
  evidence: Evidence,
  { own, ...asked }: Asked & { readonly own: readonly AlertRecord[] },
): readonly Clause[] {
  const { trace, firstBootMs } = evidence;
  const { span, opening, checks } = asked;
  const first = trace.flat.find(({ fromMs, toMs }) => fromMs < span.toMs && toMs > span.fromMs);
  invariant(first !== undefined, 'an unpowered opening meets a device without charge', { span });
  const chargedMs = trace.charges.findLast(({ atMs }) => atMs < first.fromMs)?.atMs ?? firstBootMs;
  const flatMs = trace.flat.reduce(
    (sum, { fromMs, toMs }) =>
      sum + Math.max(0, Math.min(toMs, span.toMs) - Math.max(fromMs, span.fromMs)),
    0,
  );
  const beforeMs = span.fromMs - first.fromMs;
  const clause: Clause = {
    kind: 'unpowered',
    beforeMs: beforeMs > 0 ? beforeMs : null,
    afterMs: beforeMs > 0 ? null : -beforeMs,
    lastedMs: first.fromMs - chargedMs,
    offMs: flatMs,
    all: flatMs === opening.durationMs,
  };
  if (own.length > 0) return [clause, undelivered(evidence, own)];
  const seesOpen = checks.some(({ check }) => check.contact === 'open');
  return seesOpen ? [clause, ...notDecided(evidence, asked)] : [clause];
}

interface Asked {
  readonly opening: JudgedOpening;
  readonly span: Span;
  readonly checks: readonly SeenChecks[];
}

function notDecided(evidence: Evidence, asked: Asked): readonly Clause[] {
  const { opening, span, checks } = asked;
  if (checks.length === 0) return noCheck(evidence, opening, span);
  const unsent = unsentBefore(evidence, span.fromMs, checks);
  const held = heldToTheEnd(evidence, span, unsent.length > 0);
  const what = circumstances(evidence, span, checks).filter(
    ({ kind }) => kind !== 'held' || held.length === 0,
  );
  if (checks.every(({ check }) => check.contact === 'shut')) {
    const others = what.filter(({ kind }) => kind !== 'readShut');
    return [{ kind: 'allShut', checks: countOf(checks) }, ...held, ...meanwhile('shut', others)];
  }
  const kept = [...unsent, ...quietIn(evidence, span.fromMs, checks), ...held];
  if (kept.length > 0) return [...kept, ...meanwhile('shut', what)];
  const off = offUntilShut(evidence, span);
  return [...tooFew(evidence, asked, off), ...meanwhile('shut', withoutOff(what, off))];
}

/** An alert of before that was delivered in an opening, after which the device held for as long as that opening matters. */
function heldToTheEnd(
  evidence: Evidence,
  span: Span,
  named: boolean,
): readonly ClauseOf<'heldFromDelivery'>[] {
  const hold = lastHoldIn(evidence, span);
  if (hold === null) return [];
  const { decidedMs, deliveredMs, heldMs } = hold;
  return [
    {
      kind: 'heldFromDelivery',
      decidedBeforeMs: span.fromMs - decidedMs,
      deliveredAfterMs: deliveredMs - span.fromMs,
      heldMs,
      toTheEnd: deliveredMs + heldMs === span.toMs,
      named,
    },
  ];
}

function noCheck(evidence: Evidence, opening: JudgedOpening, span: Span): readonly Clause[] {
  const { trace } = evidence;
  const offMs = offMsIn(evidence, span);
  if (offMs === opening.durationMs) return [{ kind: 'offThroughout' }];
  const heldFromMs = heldThroughout(evidence, span);
  if (heldFromMs !== null) {
    return [{ kind: 'heldThroughout', deliveredBeforeMs: span.fromMs - heldFromMs }];
  }
  const held = heldToTheEnd(evidence, span, false);
  if (held.length > 0) {
    const others = circumstances(evidence, span, []).filter(({ kind }) => kind !== 'held');
    return [...held, ...meanwhile('shut', others)];
  }
  const lastMs = lastCheckBefore(trace, span.fromMs);
  const nextMs = opening.toMs === null ? null : firstCheckFrom(trace, opening.toMs);
  const afterMs = lastMs === null ? null : span.fromMs - lastMs;
  const sendingMs = sendingMsIn(evidence, span);
  const sending: readonly Circumstance[] =
    sendingMs > 0 ? [{ kind: 'sending', ms: sendingMs }] : [];
  const off = offUntilShut(evidence, span);
  const what = [...withoutOff(circumstances(evidence, span, []), off), ...sending];
  if (off.length > 0 && (lastMs !== null || firstCheckFrom(trace, span.toMs) !== null)) {
    return [{ kind: 'opened', afterMs }, ...off, ...meanwhile('shut', what)];
  }
  const beforeMs = nextMs === null ? null : nextMs - span.toMs;
  const later = { fromMs: span.toMs, toMs: nextMs ?? trace.lengthMs };
  const between: Clause = {
    kind: 'between',
    afterMs,
    beforeMs,
    offMs: offMsIn(evidence, later),
  };
  return [between, ...meanwhile('shut', what)];
}

/** The device was without power when the opening ended. */
function offUntilShut(evidence: Evidence, span: Span): readonly ClauseOf<'offUntilShut'>[] {
  const ms = offMsAtEnd(evidence, span);
  return ms === 0 ? [] : [{ kind: 'offUntilShut', ms }];
}

/** What a clause has said of the time without power is not said again. */
function withoutOff(
  what: readonly Circumstance[],
  [said]: readonly ClauseOf<'offUntilShut'>[],
): readonly Circumstance[] {
  return what.filter((one) => one.kind !== 'off' || one.ms !== said?.ms);
}

/** Checks that found the door open often enough while an alert from before the opening was pending. */
function unsentBefore(
  { trace }: Evidence,
  openedMs: number,
  checks: readonly SeenChecks[],
): readonly ClauseOf<'unsent'>[] {
  const unsent = checks.filter(({ check }) => check.escalated && check.decision === 'attempt');
  const pending = trace.alerts.findLast(({ decidedMs }) => decidedMs < openedMs);
  if (unsent.length === 0 || pending === undefined) return [];
  const decidedBeforeMs = openedMs - pending.decidedMs;
  return [{ kind: 'unsent', checks: countOf(unsent), decidedBeforeMs }];
}

/** Checks that found the door open often enough during the cooldown of an alert. */
function quietIn(
  { trace, experiment }: Evidence,
  openedMs: number,
  checks: readonly SeenChecks[],
): readonly ClauseOf<'quiet'>[] {
  const quiet = checks.filter(({ check }) => check.decision === 'quiet');
  const firstMs = quiet[0]?.firstMs;
  if (firstMs === undefined) return [];
  const sent = trace.alerts.findLast(
    ({ deliveredMs }) => deliveredMs !== null && deliveredMs <= firstMs,
  );
  const deliveredMs = sent?.deliveredMs ?? null;
  const deliveredBeforeMs = deliveredMs === null ? null : firstMs - deliveredMs;
  const { cooldownEndsWhenShut, clearThreshold } = experiment.program.watch;
  const unseen = cooldownEndsWhenShut && deliveredMs !== null && deliveredMs < openedMs;
  return [
    {
      kind: 'quiet',
      checks: countOf(quiet),
      deliveredBeforeMs,
      ...(unseen ? { unseenShut: clearThreshold } : {}),
    },
  ];
}

/** What else kept the device from finding the door open often enough within a span. */
function circumstances(
  evidence: Evidence,
  span: Span,
  checks: readonly SeenChecks[],
): readonly Circumstance[] {
  const readShut = countOf(checks.filter(({ check }) => check.contact === 'shut'));
  const lost = countsLostIn(evidence, span, 'power loss');
  const emptied = countsLostIn(evidence, span, 'charge');
  const cleared = countsLostIn(evidence, span, 'reset');
  const all: readonly (readonly [happened: number, what: Circumstance])[] = [
    measured('off', offMsIn(evidence, span)),
    measured('held', heldMsIn(evidence, span)),
    cut(wakesCutIn(evidence, span)),
    [readShut, { kind: 'readShut', checks: readShut, of: countOf(checks) }],
    [lost.times, { kind: 'countLost', ...lost }],
    [emptied.times, { kind: 'countEmptied', ...emptied }],
    [cleared.times, { kind: 'countCleared', ...cleared }],
  ];
  return all.filter(([happened]) => happened > 0).map(([, what]) => what);
}

function measured(kind: 'off' | 'held', ms: number): readonly [number, Circumstance] {
  return [ms, { kind, ms }];
}

function cut(wakes: number): readonly [number, Circumstance] {
  return [wakes, { kind: 'wakesCut', wakes }];
}

function meanwhile(
  until: 'shut' | 'decision',
  what: ClauseOf<'meanwhile'>['what'],
): readonly Clause[] {
  return what.length === 0 ? [] : [{ kind: 'meanwhile', until, what }];
}

function tooFew(
  evidence: Evidence,
  { opening, span, checks }: Asked,
  off: readonly ClauseOf<'offUntilShut'>[],
): readonly Clause[] {
  const { experiment, trace } = evidence;
  const lastMs = lastCheckBefore(trace, span.fromMs);
  const afterMs = lastMs === null ? null : span.fromMs - lastMs;
  const most = checks.reduce(
    (greatest, { check, wake }) =>
      check.contact === 'open' ? Math.max(greatest, openChecks(wake.memoryAfter)) : greatest,
    0,
  );
  const { watch, ownLogic } = experiment.program;
  const ended = off[0] ?? howItEnded(evidence, opening, span);
  if (ownLogic === true) {
    const readOpen = countOf(checks.filter(({ check }) => check.contact === 'open'));
    const aside = ended.kind === 'shutTooSoon' || ended.kind === 'offUntilShut';
    const clause: Clause = { kind: 'readOpen', checks: readOpen, aside };
    return aside ? [{ kind: 'opened', afterMs }, ended, clause] : [clause];
  }
  const enough = watch.escalationThreshold.open;
  return [{ kind: 'opened', afterMs }, ended, { kind: 'counted', most, enough }];
}

function howItEnded(evidence: Evidence, { toMs }: JudgedOpening, span: Span): Clause {
  if (toMs === null) return { kind: 'endedFirst' };
  if (!readOpenAtEnd(evidence.experiment, span)) return { kind: 'readShutBefore' };
  const { atMs, offMs } = alertAfter(evidence, span);
  return atMs === null
    ? { kind: 'noneInTime', offMs }
    : { kind: 'shutTooSoon', byMs: atMs - toMs, offMs };
}
