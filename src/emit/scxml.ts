// A watch as W3C SCXML without a data model: facts are words in the names of events, effects are events sent. Any
// interpreter of the standard can run it, and the automaton is all it says.
import { effectBit, inputCode, type WatchSettings } from '../machine/index.js';
import type { Program } from '../sim/index.js';
import { type Automaton, type AutomatonState, automatonOf, type Reaction } from './automaton.js';
import { writtenBy } from './banner.js';

/** The name of the event that carries an input. */
export function scxmlEvent(code: number): string {
  if (code < inputCode.check || code >= inputCode.powerLost) return plainEvents[code] ?? '';
  return checkWords(code - inputCode.check).join('.');
}

const plainEvents: Readonly<Record<number, string>> = {
  [inputCode.wake['power-on']]: 'wake.power-on',
  [inputCode.wake.reset]: 'wake.reset',
  [inputCode.wake.timer]: 'wake.timer',
  [inputCode.wake.contact]: 'wake.contact',
  [inputCode.alertFailed]: 'alert.failed',
  [inputCode.alertDelivered]: 'alert.delivered',
  [inputCode.heartbeatFailed]: 'heartbeat.failed',
  [inputCode.heartbeatDelivered]: 'heartbeat.delivered',
  [inputCode.lowBatteryFailed]: 'low-battery.failed',
  [inputCode.lowBatteryDelivered]: 'low-battery.delivered',
  [inputCode.powerLost]: 'power-lost',
};

function checkWords(facts: number): readonly string[] {
  return [
    'check',
    (facts & inputCode.checkReadsOpen) === 0 ? 'shut' : 'open',
    (facts & inputCode.checkCooldownOver) === 0 ? 'cooldown-runs' : 'cooldown-over',
    (facts & inputCode.checkHeartbeatDue) === 0 ? 'heartbeat-early' : 'heartbeat-due',
    (facts & inputCode.checkLowBatteryDue) === 0 ? 'battery-good' : 'battery-low',
  ];
}

/** The names of the events that a reaction sends, in order. */
export function scxmlSends(effects: number): readonly string[] {
  return sends.filter(([mask, bits]) => (effects & mask) === bits).map(([, , name]) => name);
}

const sends: readonly (readonly [mask: number, bits: number, name: string])[] = [
  [effectBit.blink, effectBit.blink, 'do.blink'],
  [effectBit.dropAlert, effectBit.dropAlert, 'do.drop-alert'],
  [effectBit.decideAlert, effectBit.decideAlert, 'do.decide-alert'],
  [effectBit.attemptAlert, effectBit.attemptAlert, 'do.send-alert'],
  [effectBit.attemptHeartbeat, effectBit.attemptHeartbeat, 'do.send-heartbeat'],
  [effectBit.attemptLowBattery, effectBit.attemptLowBattery, 'do.send-low-battery'],
  [effectBit.hold, effectBit.hold, 'do.hold'],
  [effectBit.sleepMask, effectBit.sleepCheck, 'do.sleep.check'],
  [effectBit.sleepMask, effectBit.sleepRecheck, 'do.sleep.recheck'],
  [effectBit.sleepMask, effectBit.sleepRetry, 'do.sleep.retry'],
];

/** @param origin where the settings came from, for the first comment. */
export function scxmlText(program: Program, origin: string): string {
  const automaton = automatonOf(program);
  const powerOn = automaton.states[0]?.reactions[inputCode.wake['power-on']];
  const powered = automaton.states.slice(1).map((_, index) => stateText(automaton, index + 1));
  return `<?xml version="1.0" encoding="UTF-8"?>
<!-- ${writtenBy} scxml from ${commentText(origin)}. Change the watch file and run dozewatch emit again. -->
<!-- ${timesText(program.watch)} -->
<scxml xmlns="http://www.w3.org/2005/07/scxml" version="1.0" datamodel="null" name="watch" initial="${idOf(automaton, 0)}">
  <state id="${idOf(automaton, 0)}">
    <transition event="wake.power-on" target="${idOf(automaton, powerOn?.to ?? 0)}"/>
  </state>
  <state id="powered">
    <transition event="power-lost" target="${idOf(automaton, 0)}"/>
${powered.join('\n')}
  </state>
</scxml>
`;
}

function timesText(watch: WatchSettings): string {
  const { checkIntervalMs, recheckIntervalMs, retryIntervalMs, alertCooldownMs } = watch;
  const heartbeat =
    watch.heartbeatIntervalMs === null ? '' : `, heartbeats ${watch.heartbeatIntervalMs} ms`;
  const low =
    watch.lowBattery === undefined
      ? ''
      : `, low-battery messages ${watch.lowBattery.repeatMs} ms apart`;
  return `sleep.check ${checkIntervalMs} ms, sleep.recheck ${recheckIntervalMs} ms, sleep.retry ${retryIntervalMs} ms, cooldown ${alertCooldownMs} ms${heartbeat}${low}`;
}

function idOf({ states }: Automaton, state: number): string {
  return `${states[state]?.phase ?? ''}-${state}`;
}

function stateText(automaton: Automaton, index: number): string {
  const state = automaton.states[index];
  if (state === undefined) return '';
  return `    <!-- ${state.meaning} -->
    <state id="${idOf(automaton, index)}">
${transitionsOf(state)
  .map(({ events, reaction }) => transitionText(automaton, events, reaction))
  .join('\n')}
    </state>`;
}

function transitionText(
  automaton: Automaton,
  events: readonly string[],
  { to, effects }: Reaction,
): string {
  const open = `      <transition event="${events.join(' ')}" target="${idOf(automaton, to)}"`;
  const sent = scxmlSends(effects).map((name) => `<send event="${name}"/>`);
  return sent.length === 0 ? `${open}/>` : `${open}>${sent.join('')}</transition>`;
}

interface Transition {
  readonly events: readonly string[];
  readonly reaction: Reaction;
}

/** Inputs that lead to the same make one transition; a fact that makes no difference is left out of the name. */
function transitionsOf({ reactions }: AutomatonState): readonly Transition[] {
  const found = new Map<string, { events: string[]; reaction: Reaction }>();
  const add = (event: string, reaction: Reaction): void => {
    const key = `${reaction.to},${reaction.effects}`;
    const known = found.get(key);
    if (known === undefined) found.set(key, { events: [event], reaction });
    else known.events.push(event);
  };
  for (const [code, reaction] of reactions.entries()) {
    if (reaction === null || code === inputCode.powerLost) continue;
    if (code < inputCode.check) add(scxmlEvent(code), reaction);
  }
  for (const { name, codes } of checkNames(reactions)) {
    const reaction = reactions[codes[0] ?? 0];
    if (reaction != null) add(name, reaction);
  }
  return [...found.values()];
}

/** The shortest event names that tell the checks apart: names match by their first words. */
function checkNames(
  reactions: AutomatonState['reactions'],
): readonly { readonly name: string; readonly codes: readonly number[] }[] {
  const codes = reactions
    .map((_, code) => code)
    .filter((code) => code >= inputCode.check && code < inputCode.powerLost)
    .filter((code) => reactions[code] !== null);
  const names: { name: string; codes: readonly number[] }[] = [];
  const split = (among: readonly number[], words: number): void => {
    const [first] = among;
    if (first === undefined) return;
    const one = reactions[first];
    const alike = among.every(
      (code) => reactions[code]?.to === one?.to && reactions[code]?.effects === one?.effects,
    );
    if (alike && words >= 2) {
      const name = checkWords(first - inputCode.check)
        .slice(0, words)
        .join('.');
      names.push({ name, codes: among });
      return;
    }
    const bit = [
      inputCode.checkReadsOpen,
      inputCode.checkCooldownOver,
      inputCode.checkHeartbeatDue,
      inputCode.checkLowBatteryDue,
    ];
    const by = bit[words - 1] ?? 0;
    split(
      among.filter((code) => ((code - inputCode.check) & by) === 0),
      words + 1,
    );
    split(
      among.filter((code) => ((code - inputCode.check) & by) !== 0),
      words + 1,
    );
  };
  split(codes, 1);
  return names;
}

/** Text that may stand in an XML comment. */
function commentText(text: string): string {
  return text.replace(/[^\u0020-\u007e]/gu, '?').replaceAll('--', '- ');
}
