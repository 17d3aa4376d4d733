// What logic may do when, against a list of all that it may: every set of actions, at every input, with and without an unsent
// alert.
import { describe, expect, it } from 'vitest';
import type { DeviceEffect, DeviceInput, Phase } from '../../src/machine/index.js';
import { faultOfReaction, phaseAfter } from '../../src/machine/other-rules.js';

type Action = DeviceEffect['type'];

const actions: readonly Action[] = [
  ...(['blink', 'dropAlert', 'decideAlert', 'attemptAlert'] as const),
  ...(['attemptHeartbeat', 'attemptLowBattery', 'sleep', 'hold'] as const),
];

function effectOf(type: Action): DeviceEffect {
  return type === 'sleep' ? { type, interval: 'check' } : { type };
}

const subsets: readonly (readonly Action[])[] = Array.from({ length: 2 ** actions.length }).map(
  (_, bits) => actions.filter((__, index) => (bits & (1 << index)) !== 0),
);

const check: DeviceInput = {
  type: 'check',
  contact: 'open',
  cooldownOver: true,
  heartbeatDue: true,
};

interface Case {
  readonly input: DeviceInput;
  readonly pending: boolean;
  /** Sets of actions, each with what the machine then waits for and whether an alert is unsent. */
  readonly may: readonly (readonly [actions: string, Phase, unsent: boolean])[];
}

/** At a check: each of these also with a blink. */
function blinking(may: Case['may']): Case['may'] {
  return may.flatMap(([names, ...then]) => [
    [names, ...then],
    [`blink ${names}`, ...then],
  ]);
}

const cases: readonly Case[] = [
  ...(['power-on', 'reset', 'timer', 'contact'] as const).flatMap((cause) =>
    [false, true].map(
      (pending): Case => ({
        input: { type: 'wake', cause },
        pending,
        may: [['', 'awake', pending]],
      }),
    ),
  ),
  ...[false, true].map(
    (pending): Case => ({ input: { type: 'powerLost' }, pending, may: [['', 'off', false]] }),
  ),
  {
    input: check,
    pending: false,
    may: blinking([
      ['sleep', 'asleep', false],
      ['hold', 'holding', false],
      ['attemptHeartbeat', 'sendingHeartbeat', false],
      ['attemptLowBattery', 'sendingLowBattery', false],
      ['decideAlert attemptAlert', 'sendingAlert', true],
      ['decideAlert attemptAlert attemptLowBattery', 'sendingAlert', true],
    ]),
  },
  {
    input: check,
    pending: true,
    may: blinking([
      ['sleep', 'asleep', true],
      ['hold', 'holding', true],
      ['attemptHeartbeat', 'sendingHeartbeat', true],
      ['attemptLowBattery', 'sendingLowBattery', true],
      ['attemptAlert', 'sendingAlert', true],
      ['attemptAlert attemptLowBattery', 'sendingAlert', true],
      ['dropAlert sleep', 'asleep', false],
      ['dropAlert hold', 'holding', false],
      ['dropAlert attemptHeartbeat', 'sendingHeartbeat', false],
      ['dropAlert attemptLowBattery', 'sendingLowBattery', false],
      ['dropAlert decideAlert attemptAlert', 'sendingAlert', true],
      ['dropAlert decideAlert attemptAlert attemptLowBattery', 'sendingAlert', true],
    ]),
  },
  {
    input: { type: 'alertAttempted', delivered: true },
    pending: true,
    may: [
      ['sleep', 'asleep', false],
      ['hold', 'holding', false],
    ],
  },
  {
    input: { type: 'alertAttempted', delivered: false },
    pending: true,
    may: [['sleep', 'asleep', true]],
  },
  ...(['heartbeatAttempted', 'lowBatteryAttempted'] as const).flatMap((type) =>
    [false, true].flatMap((delivered) =>
      [false, true].map(
        (pending): Case => ({
          input: { type, delivered },
          pending,
          may: [
            ['sleep', 'asleep', pending],
            ['hold', 'holding', pending],
          ],
        }),
      ),
    ),
  ),
];

function nameOf(set: readonly Action[]): string {
  return actions.filter((action) => set.includes(action)).join(' ');
}

function orderedName(names: string): string {
  return actions.filter((action) => names.split(' ').includes(action)).join(' ');
}

describe.each(cases)('after $input, an alert unsent: $pending', ({ input, pending, may }) => {
  const allowed = new Map(may.map(([names, ...then]) => [orderedName(names), then]));

  it('a machine may do what is in the list, and nothing else', () => {
    for (const set of subsets) {
      const fault = faultOfReaction(input, set.map(effectOf), pending);
      expect(fault === null, nameOf(set)).toBe(allowed.has(nameOf(set)));
      if (fault === null) continue;
      expect(fault.what).toMatch(/^this machine /u);
      expect(fault.expected).not.toBe('');
    }
  });

  it('a machine may do nothing twice', () => {
    for (const set of subsets) {
      for (const action of set) {
        const effects = [...set, action].map(effectOf);
        expect(faultOfReaction(input, effects, pending)?.what).toContain(`does ${action} twice`);
      }
    }
  });

  it('what it waits for follows from what it did', () => {
    for (const set of subsets) {
      const then = allowed.get(nameOf(set));
      if (then === undefined) continue;
      const [phase, unsent] = then;
      expect(phaseAfter({ pending }, input, set.map(effectOf))).toEqual({ phase, pending: unsent });
    }
  });
});

describe('the fault of a reaction', () => {
  it.each<readonly [string, DeviceInput, boolean, readonly Action[]]>([
    ['does sleep when it cannot be done', { type: 'powerLost' }, false, ['sleep']],
    ['leaves a wake without an end', check, false, ['blink']],
    ['ends a wake twice', check, false, ['sleep', 'hold']],
    ['holds with its alert unsent', { type: 'alertAttempted', delivered: false }, true, ['hold']],
    ['drops an alert that it has not decided', check, false, ['dropAlert', 'sleep']],
    ['decides an alert while another is unsent', check, true, ['decideAlert', 'attemptAlert']],
    ['decides an alert and does not send it', check, false, ['decideAlert', 'sleep']],
    ['sends an alert that it has not decided', check, false, ['attemptAlert']],
  ])('is that it %s', (what, input, pending, set) => {
    const fault = faultOfReaction(input, set.map(effectOf), pending);
    expect(fault?.what).toBe(`this machine ${what}`);
  });

  it('says what may be done instead', () => {
    const expectedAt = (input: DeviceInput, set: readonly Action[]) =>
      faultOfReaction(input, set.map(effectOf), true)?.expected ?? '';
    for (const [action, input] of [
      ['attemptHeartbeat', check],
      ['sleep', { type: 'alertAttempted', delivered: false }],
      ['hold', { type: 'heartbeatAttempted', delivered: true }],
    ] as const) {
      expect(expectedAt(input, [])).toContain(action);
    }
    expect(expectedAt({ type: 'powerLost' }, ['blink'])).toMatch(/^nothing/u);
    expect(expectedAt({ type: 'wake', cause: 'timer' }, ['blink'])).toMatch(/^nothing/u);
  });
});
