// States and transitions of the logic in words.
import {
  effectBit,
  inputCode,
  inputCodes,
  isCheckCode,
  type LogicTable,
  type Phase,
  type RetainedMemory,
} from '../machine/index.js';

const phaseWords: Readonly<Record<Phase, string>> = {
  off: 'without power',
  awake: 'just woken',
  sendingAlert: 'sending an alert',
  sendingLowBattery: 'sending a low-battery message',
  sendingHeartbeat: 'sending a heartbeat',
  asleep: 'asleep',
  holding: 'held until a reset',
};

/** `asleep, remembering open, shut; an alert unsent after 2 failures; cooling down` */
export function stateText(table: LogicTable, state: number): string {
  const phase = phaseWords[table.phases[state] ?? 'off'];
  const memory = table.memories[state];
  if (memory === undefined || table.phases[state] === 'off') return phase;
  return [phase, ...memoryWords(memory)].join('; ');
}

function memoryWords(memory: RetainedMemory): string[] {
  const { recentChecks, shutRun, alertPending, failedAttempts, coolingDown } = memory;
  const words: string[] = [];
  if (recentChecks > 0) {
    const checks = Array.from(recentChecks.toString(2), (bit) => (bit === '1' ? 'open' : 'shut'));
    words.push(`last checks ${checks.join(', ')}`);
  } else {
    words.push(shutRun > 0 ? 'seen shut' : 'nothing remembered');
  }
  if (alertPending) {
    words.push(
      failedAttempts === 0 ? 'an alert unsent' : `an alert unsent, ${failedAttempts} failed`,
    );
  } else if (failedAttempts > 0) {
    words.push(`${failedAttempts} failed`);
  }
  if (coolingDown) words.push('alert sent');
  return words;
}

/**
 * A transition in words: where from, by what, and what is done.
 * @param codes inputs with the same reaction. @param among all that can come to the state.
 */
export function transitionText(
  table: LogicTable,
  state: number,
  { codes, among }: { readonly codes: readonly number[]; readonly among: readonly number[] },
): string {
  const code = codes[0] ?? 0;
  const effects = table.effects[state * inputCodes + code] ?? 0;
  const done = effectWords(effects);
  const then = done.length === 0 ? '' : `: ${done.join(', ')}`;
  return `${stateText(table, state)} | ${inputWords(codes, among)}${then}`;
}

const plainInputs: Readonly<Record<number, string>> = {
  [inputCode.wake['power-on']]: 'power comes on',
  [inputCode.wake.reset]: 'a reset',
  [inputCode.wake.timer]: 'the timer wakes it',
  [inputCode.wake.contact]: 'the contact wakes it',
  [inputCode.alertFailed]: 'the attempt fails',
  [inputCode.alertDelivered]: 'the alert is delivered',
  [inputCode.heartbeatFailed]: 'the heartbeat fails',
  [inputCode.heartbeatDelivered]: 'the heartbeat is delivered',
  [inputCode.lowBatteryFailed]: 'the low-battery message fails',
  [inputCode.lowBatteryDelivered]: 'the low-battery message is delivered',
  [inputCode.powerLost]: 'power is lost',
};

/** An input other than a check, in words; null for a check, whose words depend on what it found. */
export function inputText(code: number): string | null {
  return plainInputs[code] ?? null;
}

function inputWords(codes: readonly number[], among: readonly number[]): string {
  const code = codes[0] ?? 0;
  const named = inputText(code);
  if (named !== null) return named;
  const reads = (code & inputCode.checkReadsOpen) !== 0 ? 'reads open' : 'reads shut';
  const facts = [
    [inputCode.checkCooldownOver, 'cooldown over', 'in the cooldown'],
    [inputCode.checkHeartbeatDue, 'heartbeat due', 'no heartbeat due'],
    [inputCode.checkLowBatteryDue, 'low battery to report', 'no low battery to report'],
  ] as const;
  const differing = facts.map(([bit, yes, no]) => {
    // What always is so, or never, need not be said; nor what makes no difference.
    const fact = sharedFact(codes, bit);
    return fact === null || sharedFact(among, bit) !== null ? null : fact ? yes : no;
  });
  return [reads, ...differing.filter((words) => words !== null)].join(', ');
}

/** What all the checks among the inputs say of a fact; null: not all the same. */
function sharedFact(codes: readonly number[], bit: number): boolean | null {
  const checks = codes.filter(isCheckCode);
  const having = checks.filter((code) => ((code - inputCode.check) & bit) !== 0).length;
  if (having === checks.length) return true;
  return having === 0 ? false : null;
}

function effectWords(effects: number): string[] {
  const words: string[] = [];
  if ((effects & effectBit.dropAlert) !== 0) words.push('drops the alert');
  if ((effects & effectBit.decideAlert) !== 0) words.push('decides an alert');
  if ((effects & effectBit.attemptAlert) !== 0) words.push('sends it');
  if ((effects & effectBit.attemptHeartbeat) !== 0) words.push('sends a heartbeat');
  if ((effects & effectBit.attemptLowBattery) !== 0) words.push('sends a low-battery message');
  if ((effects & effectBit.hold) !== 0) words.push('holds');
  const sleep = sleepWords[effects & effectBit.sleepMask];
  if (sleep !== undefined) words.push(sleep);
  return words;
}

const sleepWords: Readonly<Record<number, string>> = {
  [effectBit.sleepCheck]: 'sleeps the check interval',
  [effectBit.sleepRecheck]: 'sleeps the recheck interval',
  [effectBit.sleepRetry]: 'sleeps the retry interval',
};
