// Which signals come before an action, and a key to try them.
import type { VNode } from 'preact';
import type { SignalChoice } from './signal.js';
import type { Door } from './use-door.js';

const kinds = [
  ['sound', 'sound'],
  ['vibration', 'vibration'],
  ['flash', 'flash'],
] as const satisfies readonly (readonly [keyof SignalChoice, string])[];

export function SignalPart({ door }: { readonly door: Door }): VNode {
  const { choice, choose, testSignal } = door;
  return (
    <div class="signals" role="group" aria-label="Signals">
      <span class="soft">Signals 10 s and 3 s before each action, and at it:</span>
      {kinds.map(([kind, label]) => (
        <label>
          <input
            type="checkbox"
            checked={choice[kind]}
            onChange={({ currentTarget }) => choose({ ...choice, [kind]: currentTarget.checked })}
          />{' '}
          {label}
        </label>
      ))}
      <button type="button" onClick={testSignal}>
        Test the signal <kbd>T</kbd>
      </button>
      <span class="soft">Keep the screen on, and the sound up.</span>
    </div>
  );
}
