// What a reason must claim, worked out from the whole trace of a run: every check, send, power loss and reset, one by one. It
// shares no code with src/verdict; what would have happened comes from the naive interpreter.
import { type Requirements } from '../../../src/model/index.js';
import type { Experiment, Trace } from '../../../src/sim/index.js';
import { expandWakes } from '../../support/expand.js';
import { interpret, type OracleWake } from '../../support/oracle.js';
import type { Claim } from './claims.js';

interface Stretch {
  readonly from: number;
  readonly to: number;
}

interface Check {
  readonly ms: number;
  readonly open: boolean;
  readonly escalated: boolean;
  readonly decision: OracleWake['decision'];
  /** Open checks remembered after it, as their instants. */
  readonly remembered: readonly number[];
}

/** A run, unfolded. */
export interface Whole {
  readonly experiment: Experiment;
  readonly asked: Requirements;
  readonly trace: Trace;
  readonly wakes: readonly OracleWake[];
  readonly checks: readonly Check[];
  readonly off: readonly Stretch[];
  readonly holds: readonly (Stretch & { readonly delivered: number })[];
  readonly openings: readonly Stretch[];
  /** Power losses and clearing resets that met a running device, and the open checks that it remembered. */
  readonly losses: readonly Loss[];
}

interface Loss {
  readonly ms: number;
  readonly by: 'power' | 'reset';
  readonly remembered: number;
}

export function wholeOf(experiment: Experiment, trace: Trace, asked: Requirements): Whole {
  const { world } = experiment;
  const wakes = expandWakes(trace);
  const dark = stretches(world.powerLost);
  const late = dark.find(({ from, to }) => from <= world.powerOnAtMs && world.powerOnAtMs < to);
  const firstBoot = late?.to ?? world.powerOnAtMs;
  const running = dark.filter(({ from }) => from > firstBoot);
  const off = [{ from: 0, to: firstBoot }, ...running];
  const clearing = [...world.resetsMs].filter(
    (ms, index) =>
      world.resetEffects?.[index]?.clears === true &&
      ms > firstBoot &&
      !dark.some(({ from, to }) => from <= ms && ms <= to),
  );
  const forgetting = [
    ...running.map(({ from }) => ({ ms: from, by: 'power' as const })),
    ...clearing.map((ms) => ({ ms, by: 'reset' as const })),
  ].toSorted((a, b) => a.ms - b.ms);
  const { checks, losses } = remember(experiment, wakes, forgetting);
  const holds = wakes
    .filter((wake) => wake.holds)
    .map((wake) => {
      const delivered = wake.alertSend?.endMs ?? Number.NaN;
      const ends = [...running.map(({ from }) => from), ...world.resetsMs, trace.lengthMs];
      return { delivered, from: delivered, to: least(ends.filter((ms) => ms > delivered)) };
    });
  const openings = stretches(world.openings);
  return { experiment, asked, trace, wakes, checks, off, holds, openings, losses };
}

function stretches(spans: {
  readonly fromMs: Float64Array;
  readonly toMs: Float64Array;
}): readonly Stretch[] {
  return Array.from(spans.fromMs, (from, index) => ({ from, to: spans.toMs[index] ?? Number.NaN }));
}

function least(all: readonly number[]): number {
  return all.reduce((a, b) => (b < a ? b : a), Number.POSITIVE_INFINITY);
}

/** The rules of memory with a list of instants: the last checks from the first open one on. */
function remember(
  { program }: Experiment,
  wakes: readonly OracleWake[],
  forgetting: readonly Omit<Loss, 'remembered'>[],
): Pick<Whole, 'checks' | 'losses'> {
  const { escalationThreshold, clearThreshold } = program.watch;
  let list: { ms: number; open: boolean }[] = [];
  let shut = 0;
  const checks: Check[] = [];
  const losses: Loss[] = [];
  const pending = [...forgetting];
  const loseMemoryBefore = (ms: number): void => {
    for (let next = pending[0]; next !== undefined && next.ms <= ms; next = pending[0]) {
      losses.push({ ...next, remembered: list.filter(({ open }) => open).length });
      list = [];
      shut = 0;
      pending.shift();
    }
  };
  for (const { checkMs, contact, escalated, decision } of wakes) {
    if (checkMs === null) continue;
    loseMemoryBefore(checkMs);
    const open = contact === 'open';
    list = [...list, { ms: checkMs, open }].slice(-escalationThreshold.outOf);
    shut = open ? 0 : shut + 1;
    if (shut >= clearThreshold) list = [];
    const remembered = list.filter((one) => one.open).map(({ ms }) => ms);
    checks.push({ ms: checkMs, open, escalated, decision, remembered });
  }
  loseMemoryBefore(Number.POSITIVE_INFINITY);
  return { checks, losses };
}

function common(a: Stretch, b: Stretch): number {
  return Math.max(0, Math.min(a.to, b.to) - Math.max(a.from, b.from));
}

function sum(all: readonly number[]): number {
  return all.reduce((a, b) => a + b, 0);
}

/** The claims on an opening that was missed or reported late. */
export function openingClaims(whole: Whole, index: number): readonly Claim[] {
  const { openings, trace, checks } = whole;
  const truth = openings[index] ?? { from: 0, to: 0 };
  const opening = { from: truth.from, to: Math.min(truth.to, trace.lengthMs) };
  const own = trace.alerts.filter(
    ({ decidedMs }) => decidedMs >= opening.from && decidedMs < opening.to,
  );
  const delivered = own.find(({ deliveredMs }) => deliveredMs !== null);
  if (delivered !== undefined) return lateClaims(whole, opening, own, delivered);
  if (own.length > 0) {
    return [`undelivered alerts=${own.length} ${fatesOf(whole, own)} ${attemptsOf(whole, own)}`];
  }
  const inside = checks.filter(({ ms }) => ms >= opening.from && ms < opening.to);
  const runsOn = truth.to > trace.lengthMs;
  if (inside.length === 0) return noCheckClaims(whole, opening, runsOn);
  const unsent = unsentClaims(whole, opening.from, inside);
  const held = heldFromDelivery(whole, opening, unsent.length > 0);
  const around = aroundClaims(whole, opening, inside).filter(
    (claim) => !(held.length > 0 && claim.startsWith('held ')),
  );
  const dark = darkAtEnd(whole, opening);
  if (inside.every(({ open }) => !open)) {
    const others = around.filter((claim) => !claim.startsWith('readShut'));
    return [`allShut checks=${inside.length}`, ...held, ...under('whileOpen', others)];
  }
  const kept = [...unsent, ...quietClaims(whole, opening.from, inside), ...held];
  if (kept.length > 0) return [...kept, ...under('whileOpen', around)];
  const main = tooFewClaims(whole, opening, { inside, runsOn, dark });
  return [...main, ...under('whileOpen', besides(around, dark))];
}

/** How long before its end the power went that was still missing as the opening ended; 0: it had power. */
function darkAtEnd({ off }: Whole, { from, to }: Stretch): number {
  let since = to;
  for (const dark of off.toReversed()) {
    if (dark.from < since && since <= dark.to) since = dark.from;
  }
  return to - Math.max(from, since);
}

/** The time without power is claimed once. */
function besides(around: readonly Claim[], dark: number): readonly Claim[] {
  return around.filter((claim) => claim !== `off for=${dark}`);
}

/** Time without power after an opening: up to a check that is named, or to the end of the timeline. */
function offAfter(
  { off, trace }: Whole,
  from: number,
  checkMs: number | undefined,
): readonly Claim[] {
  const ms = sum(off.map((dark) => common(dark, { from, to: checkMs ?? trace.lengthMs })));
  if (ms === 0) return [];
  return [`${checkMs === undefined ? 'offUntilEnd' : 'offBetween'} for=${ms}`];
}

/** An alert of before came through while the door was open, and the device made no check from then until it shut. */
function heldFromDelivery(whole: Whole, opening: Stretch, isNamed: boolean): readonly Claim[] {
  const { holds, wakes, trace } = whole;
  const hold = holds.find(({ from }) => from > opening.from && from < opening.to);
  if (hold === undefined) return [];
  if (wakes.some(({ wakeMs }) => wakeMs >= hold.from && wakeMs < opening.to)) return [];
  const alert = trace.alerts.find(({ deliveredMs }) => deliveredMs === hold.delivered);
  const decided = isNamed ? '' : ` decided=${opening.from - (alert?.decidedMs ?? Number.NaN)}`;
  const rest = String(hold.to >= opening.to);
  return [
    `heldFromDelivery${decided} delivered=${hold.delivered - opening.from} for=${common(hold, opening)} rest=${rest}`,
  ];
}

function under(head: string, claims: readonly Claim[]): readonly Claim[] {
  return claims.length === 0 ? [] : [head, ...claims];
}

type Alerts = Trace['alerts'];

function fatesOf({ experiment }: Whole, alerts: Alerts): string {
  const { powerLost, resetsMs } = experiment.world;
  const gone = alerts.flatMap(({ forgottenMs }) => forgottenMs ?? []);
  const forgotten = gone.filter(
    (ms) => powerLost.fromMs.includes(ms) || !resetsMs.includes(ms),
  ).length;
  const cleared = gone.length - forgotten;
  const dropped = alerts.filter(({ droppedMs }) => droppedMs !== null).length;
  return `forgotten=${forgotten} cleared=${cleared} dropped=${dropped} unsent=${alerts.length - gone.length - dropped}`;
}

function attemptsOf({ trace, experiment }: Whole, alerts: Alerts): string {
  const all = alerts.flatMap(({ attempts }) => attempts);
  const failed = all.filter(({ outcome }) => outcome === 'failed').length;
  const cutMs = all.filter(({ outcome }) => outcome === 'cutOff').map(({ endMs }) => endMs);
  const end = cutMs.filter((ms) => ms === trace.lengthMs).length;
  const power = cutMs.filter(
    (ms) => ms !== trace.lengthMs && experiment.world.powerLost.fromMs.includes(ms),
  ).length;
  return `failed=${failed} reset=${cutMs.length - end - power} power=${power} end=${end}`;
}

function lateClaims(
  whole: Whole,
  opening: Stretch,
  own: Alerts,
  delivered: Alerts[number],
): readonly Claim[] {
  const { decidedMs } = delivered;
  const deliveredMs = delivered.deliveredMs ?? Number.NaN;
  const by = deliveredMs - opening.from - (whole.asked.reportWithinMs ?? Number.NaN);
  const earlier = own.filter((alert) => alert.decidedMs < decidedMs);
  const before = { from: opening.from, to: decidedMs };
  const inside = whole.checks.filter(({ ms }) => ms >= before.from && ms < before.to);
  const ownFrom = own[0]?.decidedMs ?? Number.NaN;
  const firsts = inside.filter(({ ms }) => ms < ownFrom);
  return [
    `late by=${by}`,
    `decided after=${decidedMs - opening.from} sent=${deliveredMs - decidedMs} ${attemptsOf(whole, [delivered])}`,
    ...(earlier.length > 0 ? [`earlier alerts=${earlier.length} ${fatesOf(whole, earlier)}`] : []),
    ...under('beforeDecision', [
      ...unsentClaims(whole, opening.from, firsts),
      ...quietClaims(whole, opening.from, inside),
      ...aroundClaims(whole, before, inside),
    ]),
  ];
}

function noCheckClaims(whole: Whole, opening: Stretch, runsOn: boolean): readonly Claim[] {
  const { checks, off, holds, wakes } = whole;
  const long = opening.to - opening.from;
  if (sum(off.map((dark) => common(dark, opening))) === long) return ['offThroughout'];
  const hold = holds.find(({ from, to }) => from <= opening.from && to >= opening.to);
  if (hold !== undefined) return [`heldThroughout delivered=${opening.from - hold.delivered}`];
  const held = heldFromDelivery(whole, opening, false);
  if (held.length > 0) {
    const others = aroundClaims(whole, opening, []).filter((claim) => !claim.startsWith('held '));
    return [...held, ...under('whileOpen', others)];
  }
  const last = checks.filter(({ ms }) => ms < opening.from).at(-1);
  const next = runsOn ? undefined : checks.find(({ ms }) => ms >= opening.to);
  const between = [
    'between',
    ...(last === undefined ? [] : [`after=${opening.from - last.ms}`]),
    ...(next === undefined ? [] : [`before=${next.ms - opening.to}`]),
  ].join(' ');
  const sends = wakes.flatMap(({ alertSend, heartbeatSend }) => alertSend ?? heartbeatSend ?? []);
  const sending = sum(
    sends.map(({ startMs, endMs }) => common({ from: startMs, to: endMs }, opening)),
  );
  const dark = darkAtEnd(whole, opening);
  const around = [
    ...besides(aroundClaims(whole, opening, []), dark),
    ...(sending > 0 ? [`sending for=${sending}`] : []),
  ];
  if (dark > 0 && checks.length > 0) {
    const opened = last === undefined ? 'opened' : `opened after=${opening.from - last.ms}`;
    return [opened, `offUntilShut for=${dark}`, ...under('whileOpen', around)];
  }
  const hasCheck = last !== undefined || next !== undefined;
  const after = hasCheck ? offAfter(whole, opening.to, next?.ms) : [];
  return [between, ...after, ...under('whileOpen', around)];
}

function aroundClaims(whole: Whole, span: Stretch, inside: readonly Check[]): readonly Claim[] {
  const { off, holds, losses, trace, wakes, experiment } = whole;
  const claims: Claim[] = [];
  const offMs = sum(off.map((dark) => common(dark, span)));
  if (offMs > 0) claims.push(`off for=${offMs}`);
  const heldMs = sum(holds.map((hold) => common(hold, span)));
  if (heldMs > 0) claims.push(`held for=${heldMs}`);
  const cut = wakes.filter(({ checkMs, wakeMs }) => {
    if (checkMs !== null) return false;
    const powerMs = least(off.map(({ from }) => from).filter((ms) => ms > wakeMs));
    const resetMs = least([...experiment.world.resetsMs].filter((ms) => ms > wakeMs));
    const byReset = resetMs < powerMs && resetMs < trace.lengthMs;
    return byReset && resetMs >= span.from && resetMs < span.to;
  }).length;
  if (cut > 0) claims.push(`wakesCut wakes=${cut}`);
  const shut = inside.filter(({ open }) => !open).length;
  if (shut > 0) claims.push(`readShut checks=${shut} of=${inside.length}`);
  for (const [by, claim] of [
    ['power', 'countLost'],
    ['reset', 'countCleared'],
  ] as const) {
    const lost = losses.filter(
      (loss) => loss.by === by && loss.ms >= span.from && loss.ms < span.to && loss.remembered > 0,
    );
    if (lost.length === 0) continue;
    const count = sum(lost.map(({ remembered }) => remembered));
    claims.push(`${claim} times=${lost.length} checks=${count}`);
  }
  return claims;
}

/** Where no alert of its own was pending: those that were found open often enough while another was. */
function unsentClaims(
  { trace }: Whole,
  openedMs: number,
  inside: readonly Check[],
): readonly Claim[] {
  const kept = inside.filter(({ open, escalated, ms }) => {
    const pending = pendingAt(trace, ms);
    return open && escalated && pending !== undefined;
  });
  const first = kept[0];
  if (first === undefined) return [];
  const pending = pendingAt(trace, first.ms);
  return [`unsent checks=${kept.length} decided=${openedMs - (pending?.decidedMs ?? Number.NaN)}`];
}

/** The alert that was decided before an instant and is neither delivered, dropped nor forgotten by then. */
function pendingAt({ alerts }: Trace, ms: number): Alerts[number] | undefined {
  return alerts.find(
    ({ decidedMs, deliveredMs, droppedMs, forgottenMs }) =>
      decidedMs < ms && ms <= (deliveredMs ?? droppedMs ?? forgottenMs ?? Number.POSITIVE_INFINITY),
  );
}

/** Found open often enough, nothing pending and nothing decided: only a cooldown does that. */
function quietClaims(
  { trace, checks, experiment }: Whole,
  opened: number,
  inside: readonly Check[],
): readonly Claim[] {
  const kept = inside.filter(
    ({ open, escalated, ms }) =>
      open &&
      escalated &&
      pendingAt(trace, ms) === undefined &&
      !trace.alerts.some(({ decidedMs }) => decidedMs === ms),
  );
  const first = kept[0];
  if (first === undefined) return [];
  let delivered = Number.NaN;
  for (const { deliveredMs } of trace.alerts) {
    if (deliveredMs !== null && deliveredMs <= first.ms) delivered = deliveredMs;
  }
  const { cooldownEndsWhenShut, clearThreshold } = experiment.program.watch;
  const between = checks.filter(({ ms }) => ms > delivered && ms < first.ms);
  const seen = between.some(
    (_, at) =>
      between.slice(at, at + clearThreshold).every(({ open }) => !open) &&
      at + clearThreshold <= between.length,
  );
  const isUnseen = cooldownEndsWhenShut && delivered < opened && !seen;
  return [
    `quiet checks=${kept.length} delivered=${first.ms - delivered}`,
    ...(isUnseen ? [`unseenShut checks=${String(clearThreshold)}`] : []),
  ];
}

interface Ended {
  readonly inside: readonly Check[];
  readonly runsOn: boolean;
  /** Without power before its end. */
  readonly dark: number;
}

function tooFewClaims(
  whole: Whole,
  opening: Stretch,
  { inside, runsOn, dark }: Ended,
): readonly Claim[] {
  const { checks, experiment } = whole;
  const last = checks.filter(({ ms }) => ms < opening.from).at(-1);
  const most = inside
    .filter(({ open }) => open)
    .reduce((greatest, { remembered }) => Math.max(greatest, remembered.length), 0);
  const opened = last === undefined ? 'opened' : `opened after=${opening.from - last.ms}`;
  const ending =
    dark > 0
      ? [`offUntilShut for=${dark}`]
      : runsOn
        ? ['endedFirst']
        : endingClaims(whole, opening);
  if (experiment.program.ownLogic === true) {
    const readOpen = `readOpen checks=${inside.filter(({ open }) => open).length}`;
    const isShown = ['shutTooSoon', 'offUntilShut'].some((kind) => ending[0]?.startsWith(kind));
    return isShown ? [opened, ...ending, readOpen] : [readOpen];
  }
  return [
    opened,
    ...ending,
    `counted most=${most} enough=${experiment.program.watch.escalationThreshold.open}`,
  ];
}

/** What a door that stays open, with a contact that goes on reading open, would have led to. */
function endingClaims(whole: Whole, opening: Stretch): readonly Claim[] {
  const { experiment } = whole;
  const { world } = experiment;
  const edges = [...world.contact].filter((ms) => ms < opening.to);
  if (edges.length % 2 === 0) return ['readShutBefore'];
  const longer = { ...experiment, world: { ...world, contact: Float64Array.from(edges) } };
  const alert = interpret(longer).alerts.find(({ decidedMs }) => decidedMs >= opening.from);
  const after = offAfter(whole, opening.to, alert?.decidedMs);
  return alert === undefined
    ? ['noneInTime', ...after]
    : [`shutTooSoon by=${alert.decidedMs - opening.to}`, ...after];
}

/** The claims on a false alert. */
export function alertClaims(whole: Whole, index: number): readonly Claim[] {
  const { trace, checks, openings, asked } = whole;
  const decidedMs = trace.alerts[index]?.decidedMs ?? Number.NaN;
  const counted = checks.find(({ ms }) => ms === decidedMs)?.remembered ?? [];
  const openingAt = (ms: number) => openings.findIndex(({ from, to }) => from <= ms && ms < to);
  const inside = counted.filter((ms) => openingAt(ms) >= 0);
  const ghosts = counted.length - inside.length;
  if (inside.length === 0) return [`allGhosts checks=${ghosts}`];
  const hit = [...new Set(inside.map(openingAt))].map((at) => openings[at] ?? { from: 0, to: 0 });
  const lengths = hit.map(({ from, to }) => Math.min(to, trace.lengthMs) - from);
  const shown = [...lengths.slice(0, 5), ...(lengths.length > 5 ? ['…'] : [])].join(',');
  const [only] = lengths;
  const where =
    lengths.length === 1 && only !== undefined
      ? `lengths=${only} brief=${String(only < asked.leaveOpenAfterMs)}`
      : `openings=${lengths.length} lengths=${shown}`;
  return [
    `openChecks checks=${inside.length} ${where}`,
    ...(ghosts > 0 ? [`moreGhosts checks=${ghosts}`] : []),
    ...(openingAt(decidedMs) < 0 ? ['decidedShut'] : []),
  ];
}
