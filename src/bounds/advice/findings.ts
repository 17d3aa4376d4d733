// What the owner should know about the watch, one sentence each, as the search has found it.
import { deviceMs, durationText, numberText, roundedDurationText } from '../../base/index.js';
import {
  calmEnvironment,
  mostFindingStates,
  possibleResets,
  type ResetMemory,
  resetKinds,
} from '../../model/index.js';
import { compileWatch } from '../../sim/index.js';
import type { BlindBandMm, Finding } from '../answer.js';
import { decidedFromMs, type Searched, searched, searchesFor, sureFromMs } from '../bounds.js';
import type { BoundsQuestion } from '../question.js';
import { unlessOutgrown } from '../visited.js';
import { blindBandMmOf, eagerBandMmOf } from './blind-band.js';
import { bounceLeftOut } from './bounce.js';

/** What was searched for in the environment of the question; null: it outgrew its limit. */
interface Searches {
  readonly atRest: Searched | null;
  readonly anyState: Searched | null;
  readonly quickest: Searched | null;
}

/** Infinity: no opening ever raises an alert; undefined: not found out. */
function quietMsOf({ quickest }: Searches): number | undefined {
  if (quickest === null) return undefined;
  return quickest.result.decision?.openingMs ?? Number.POSITIVE_INFINITY;
}

/** A bound of the same watch with something of it or its environment taken away; undefined: not found out. */
function sureFrom(
  question: BoundsQuestion,
  from: 'atRest' | 'anyState',
): number | null | undefined {
  const options = { ...searchesFor[from], mostNodes: mostFindingStates };
  return unlessOutgrown(
    () => sureFromMs(searched(question, options).result),
    () => undefined,
  );
}

export function findingsOf(question: BoundsQuestion, searches: Searches): readonly Finding[] {
  const found = [
    cooldownHole(question, searches),
    holdUntilReset(question),
    memoryLost(question, searches),
    resetsAssumed(question),
    alertLost(question, searches),
    blindBand(question),
    eagerContact(question),
    bounceLeftOut(question, quietMsOf(searches)),
    messagesDelay(question, searches),
  ];
  return found.filter((finding) => finding !== null);
}

/** A device that sends looks at no door: how much a heartbeat or a low-battery message costs, where it costs a requirement. */
function messagesDelay(question: BoundsQuestion, { atRest }: Searches): Finding | null {
  const { program, judge } = question;
  const { watch } = program;
  const { lowBattery, ...others } = watch;
  const beats = watch.heartbeatIntervalMs !== null;
  if (atRest === null || (!beats && lowBattery === undefined)) return null;
  const sureMs = sureFromMs(atRest.result);
  if (sureMs === null || sureMs <= judge.leaveOpenAfterMs) return null;
  const silent = compileWatch({ ...others, heartbeats: false, heartbeatIntervalMs: null });
  const silentMs = sureFrom({ ...question, program: { ...program, ...silent } }, 'atRest');
  if (silentMs === undefined || silentMs === null || silentMs > judge.leaveOpenAfterMs) return null;
  const message = beats ? 'a heartbeat' : 'a low-battery message';
  const unwoken = watch.wakeOn === 'timer' ? '' : ', and the contact does not wake it meanwhile';
  const sentence = `while it sends ${message} the device makes no check${unwoken}: without such messages it would be sure from ${roundedDurationText(silentMs, 'at most')} at rest, and not only from ${roundedDurationText(sureMs, 'at most')}`;
  return { code: 'messages-delay', sentence };
}

/** The cooldown of an earlier alert hides a new opening: the difference from the same watch without a cooldown. */
function cooldownHole(question: BoundsQuestion, { anyState }: Searches): Finding | null {
  const { program, environment } = question;
  const { watch } = program;
  if (watch.alertCooldownMs === 0 || watch.afterAlert === 'hold-until-reset') return null;
  const calm = { ...question, environment: { ...calmEnvironment, resets: environment.resets } };
  const uncooled = {
    ...calm,
    program: { ...program, watch: { ...watch, alertCooldownMs: deviceMs(0) } },
  };
  const { longestOutageMs, powerLosses, longestChatterMs } = environment;
  const isCalm = [longestOutageMs, powerLosses, longestChatterMs].every((some) => some === 0);
  const withMs =
    isCalm && anyState !== null ? sureFromMs(anyState.result) : sureFrom(calm, 'anyState');
  const withoutMs = sureFrom(uncooled, 'anyState');
  if (withMs == null || withoutMs == null || withMs <= withoutMs) return null;
  const cooldown = durationText(watch.alertCooldownMs);
  const hides = `can hide an opening of up to ${roundedDurationText(withMs - 1, 'at most')}`;
  const between =
    watch.clearThreshold > 1
      ? `before ${numberText(watch.clearThreshold)} checks in a row find it shut`
      : watch.wakeOn === 'any-change'
        ? 'while the device sends or boots, so that no check finds it shut'
        : 'between two checks';
  const how = watch.cooldownEndsWhenShut
    ? `if the door shuts and opens again ${between}, the device takes it for one opening, and the cooldown of ${cooldown} after its alert ${hides}`
    : `the cooldown of ${cooldown} goes on after the door is shut, and ${hides}`;
  const allMs = isCalm || anyState === null ? null : sureFromMs(anyState.result);
  const sentence =
    allMs === null || allMs <= withMs ? how : `${how}${worseText(environment, allMs)}`;
  return { code: 'cooldown-hole', sentence };
}

/** What was left out of a duration, and how much longer it is with that. */
function worseText(
  { longestOutageMs, powerLosses, longestChatterMs }: BoundsQuestion['environment'],
  sureMs: number,
): string {
  const out = [
    ...(longestOutageMs > 0 ? ['a network outage'] : []),
    ...(powerLosses > 0 ? ['a power loss'] : []),
    ...(longestChatterMs > 0 ? ['chatter of the contact'] : []),
  ];
  const late =
    longestOutageMs > 0
      ? ', and an outage can also delay that alert, and its cooldown with it'
      : '';
  return `, even without ${out.join(' or ')} (with ${out.length > 1 ? 'them' : 'it'}, this watch is sure from any state only from ${roundedDurationText(sureMs, 'at most')}${late})`;
}

function holdUntilReset({ program }: BoundsQuestion): Finding | null {
  if (program.watch.afterAlert !== 'hold-until-reset') return null;
  const sentence =
    'after an alert the device stays awake and does nothing until it is reset, so it does not see any opening before that';
  return { code: 'hold-until-reset', sentence };
}

/** What the loss of memory, with the power or in a reset, adds to the same environment in which it is kept. */
function memoryLost(question: BoundsQuestion, { atRest }: Searches): Finding | null {
  const { environment } = question;
  const { powerLosses } = environment;
  const clearing = resetsMayClear(question) ? environment.resets : 0;
  if (powerLosses + clearing === 0 || atRest === null) return null;
  const withMs = sureFromMs(atRest.result);
  const withoutMs = sureFrom(
    { ...question, environment: { ...environment, powerLosses: 0 }, reset: keepingResets },
    'atRest',
  );
  if (withMs === null || withoutMs == null || withMs <= withoutMs) return null;
  const some = (count: number, one: string): string[] =>
    count === 0
      ? []
      : [count === 1 ? `1 ${one}` : `${String(count)} ${one}${one.endsWith('s') ? 'es' : 's'}`];
  const counts = [...some(powerLosses, 'power loss'), ...some(clearing, 'reset')].join(' and ');
  const what = [
    ...(powerLosses > 0 ? ['a power loss'] : []),
    ...(clearing > 0 ? ['a clearing reset'] : []),
  ].join(' or ');
  const without = [
    ...(powerLosses > 0 ? ['without power losses'] : []),
    ...(clearing > 0 ? ['if every reset kept memory'] : []),
  ].join(' and ');
  const sentence = `${what} clears the count of open checks and any alert not yet delivered: with ${counts} the watch is sure only from ${roundedDurationText(withMs, 'at most')}; ${without}, it would be sure from ${roundedDurationText(withoutMs, 'at most')}`;
  return { code: 'memory-lost', sentence };
}

/** Whether leaveOpenAfter is met at rest if every reset keeps retained memory. */
export function isMetWithMemoryKept(question: BoundsQuestion): boolean {
  if (question.environment.resets === 0 || !resetsMayClear(question)) return false;
  const sureMs = sureFrom({ ...question, reset: keepingResets }, 'atRest');
  return sureMs != null && sureMs <= question.judge.leaveOpenAfterMs;
}

const keepingResets: ResetMemory = { button: 'keeps', watchdog: 'keeps', software: 'keeps' };

function resetsMayClear({ reset }: BoundsQuestion): boolean {
  return possibleResets(reset).clearing !== null;
}

/** The kinds of reset of which the watch file does not say what they do. */
function resetsAssumed({ environment, reset }: BoundsQuestion): Finding | null {
  const silent = resetKinds.filter((kind) => reset[kind] === null);
  if (environment.resets === 0 || silent.length === 0) return null;
  const of = silent.length === resetKinds.length ? 'a reset' : `a ${silent.join(' or ')} reset`;
  const sentence = `the watch file does not say whether ${of} keeps retained memory (device.reset), so these bounds assume the worse of both`;
  return { code: 'resets-assumed', sentence };
}

/** Where D is greater than the length from which an alert is always decided: how the alert can be lost. */
function alertLost(question: BoundsQuestion, { atRest, anyState }: Searches): Finding | null {
  const { program, environment } = question;
  const from = differs(atRest) ? '' : ' from any state';
  const searched = differs(atRest) ? atRest : anyState;
  if (searched === null || !differs(searched)) return null;
  const { result } = searched;
  const decidedMs = decidedFromMs(result);
  if (decidedMs === null) return null;
  const sureMs = sureFromMs(result);
  const drops = program.watch.unsentWhenShut === 'drop';
  const down = durationText(environment.longestOutageMs);
  const waits =
    environment.longestOutageMs > 0
      ? `with the network down for up to ${down}${environment.outages > 1 ? ' at a time' : ''} `
      : '';
  const ends = [
    ...(drops ? ['is dropped when a check finds the door shut'] : []),
    ...(environment.powerLosses > 0 ? ['is lost with the power'] : []),
    ...(environment.resets > 0 && resetsMayClear(question)
      ? ['is lost in a reset that clears retained memory']
      : []),
  ];
  const lost = ends.length === 0 ? 'is never sent' : ends.join(', or ');
  const until =
    sureMs === null
      ? 'however long the door stays open, it may go unreported'
      : `an opening of up to ${roundedDurationText(sureMs - 1, 'at most')} can go unreported`;
  const sentence = `every opening of at least ${roundedDurationText(decidedMs, 'at most')} makes the watch decide an alert${from}, but it can be lost: ${waits}an alert not yet delivered ${lost}, and ${until}`;
  return { code: 'alert-lost', sentence };
}

function differs(searched: Searched | null): boolean {
  if (searched === null) return false;
  const decidedMs = decidedFromMs(searched.result);
  return decidedMs !== null && decidedMs !== sureFromMs(searched.result);
}

function blindBand(question: BoundsQuestion): Finding | null {
  const band = blindBandMmOf(question);
  if (band === null) return null;
  const sentence = `the contact reads shut although the door is unsealed, so no alert comes: ${bandText(band)}`;
  return { code: 'blind-band', sentence };
}

function eagerContact(question: BoundsQuestion): Finding | null {
  const band = eagerBandMmOf(question);
  if (band === null) return null;
  const sentence = `the contact reads open although the door still seals, so a shut door can raise an alert: ${bandText(band)}`;
  return { code: 'eager-contact', sentence };
}

function bandText({ closing, creeping }: BlindBandMm): string {
  return [
    ...(closing === null ? [] : [`a door that closes on ${gaps(closing)}`]),
    ...(creeping === null ? [] : [`a door that creeps open to ${gaps(creeping)}`]),
  ].join(', and ');
}

function gaps([from, to]: readonly [number, number]): string {
  return `a gap over ${String(from)} mm and up to ${String(to)} mm`;
}
