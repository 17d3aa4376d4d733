// What a machine of the owner's own may not be made of, refused in the words of its file: what keeps time or runs other
// actors, and actions that only XState knows.

import type { AnyStateMachine, AnyStateNode } from 'xstate';
import { pushAll } from '../base/index.js';
import { mostOtherNodes } from '../model/index.js';

interface Refusal {
  readonly what: string;
  readonly facts: { readonly found: string; readonly expected: string; readonly hint: string };
}

const timeHint =
  'for time that has passed, look at cooldownOver and heartbeatDue of the event check; how long it sleeps is the action sleep';

/** The first state with a timer or an invoked actor; null: no state has one. */
export function refusalOfStates({ root }: AnyStateMachine): Refusal | null {
  const nodes: AnyStateNode[] = [root];
  for (let index = 0; index < Math.min(nodes.length, mostOtherNodes); index += 1) {
    const node = nodes[index];
    if (node === undefined) break;
    const found = refusalOfState(node);
    if (found !== null) return found;
    pushAll(nodes, Object.values(node.states));
  }
  return null;
}

function refusalOfState(node: AnyStateNode): Refusal | null {
  const where = node.path.length === 0 ? 'at the top' : `in the state ${node.path.join('.')}`;
  const [timer] = node.after;
  if (timer !== undefined) {
    return {
      what: 'this machine has a timer',
      facts: {
        found: `after: { ${delayText(timer.delay)}: … } ${where}`,
        expected: 'no after: the device has no timer of its own while it is awake or asleep',
        hint: timeHint,
      },
    };
  }
  const [invoked] = node.invoke;
  if (invoked !== undefined) {
    const src: unknown = invoked.src;
    return {
      what: 'this machine invokes another one',
      facts: {
        found: `invoke: { src: ${typeof src === 'string' ? `'${src}'` : '…'} } ${where}`,
        expected: 'no invoke: nothing runs beside the machine in the device',
        hint: 'decide from the context and the events only; what is sent is one of the actions, such as attemptAlert, and the answer an event',
      },
    };
  }
  return null;
}

function delayText(delay: unknown): string {
  if (typeof delay === 'number' || typeof delay === 'string') return String(delay);
  return '…';
}

const ownWords: Readonly<Record<string, string>> = {
  'xstate.raise': 'raise with a delay',
  'xstate.sendTo': 'sendTo',
  'xstate.spawnChild': 'spawnChild',
  'xstate.stopChild': 'stopChild',
  'xstate.cancel': 'cancel',
  'xstate.log': 'log',
  'xstate.emit': 'emit',
};

/** How an action that is none of the device's is written in its file. */
export function actionWords(type: string): string {
  if (type === '' || type === '(anonymous)') return 'a function written in place of a name';
  return ownWords[type] ?? type;
}

/** Events that the machine waits for and no device sends: perhaps misspelt. */
export function strangeEvents(machine: AnyStateMachine, known: readonly string[]): string[] {
  const events: readonly string[] = machine.events.map((event) => String(event));
  return events.filter(
    (event) => !known.includes(event) && !event.startsWith('xstate.') && event !== '*',
  );
}
