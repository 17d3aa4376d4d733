// Each property that is tried by its name: it holds for a sound watch, and what breaks it is found.
import { describe, expect, it } from 'vitest';
import { type AdversityKind, type HuntResult, hunt } from '../../src/hunt/index.js';
import { huntQuestion } from '../support/watch-question.js';

const seed = 3;

function hunted(
  text: string,
  property: string,
  on: { readonly with?: readonly AdversityKind[]; readonly runs?: number } = {},
): HuntResult['found'] {
  const question = huntQuestion(text, { properties: [property], with: on.with ?? [] });
  return hunt(question, { seed, runs: on.runs ?? 300 }).found;
}

const watch = (keys: string, judge = 'leaveOpenAfter: 3m'): string =>
  `watch: { checkInterval: 1m, escalationThreshold: 2, ${keys} }\njudge: { ${judge} }\n`;

describe('quiet', () => {
  it('holds up to the distance of two checks, and no further', () => {
    const judge = (quietUpTo: string) => `leaveOpenAfter: 3m, quietUpTo: ${quietUpTo}`;
    expect(hunted(watch('alertCooldown: 0s', judge('60400ms')), 'quiet')).toBeNull();
    const found = hunted(watch('alertCooldown: 0s', judge('61s')), 'quiet', { runs: 1_000 });
    expect(found?.trial.openings).toHaveLength(1);
    const [fromMs, toMs] = found?.trial.openings[0] ?? [0, 0];
    expect(toMs - fromMs).toBeGreaterThan(60_400);
    expect(toMs - fromMs).toBeLessThanOrEqual(61_000);
  });
});

describe('no-false-alarm', () => {
  it('is broken by two brief openings on consecutive checks, and never by shut doors', () => {
    const brief = watch('alertCooldown: 0s', 'leaveOpenAfter: 1m');
    const found = hunted(brief, 'no-false-alarm');
    expect(found?.trial.openings).toHaveLength(2);
    expect(found?.breach.subject?.kind).toBe('alert');
  });

  it('is not broken by a contact that reads open at random', () => {
    const text = watch('alertCooldown: 0s, checkInterval: 20m', 'leaveOpenAfter: 1ms').replace(
      'checkInterval: 1m, ',
      '',
    );
    expect(hunted(text, 'no-false-alarm', { with: ['chatter'] })).toBeNull();
  });
});

describe('one-alert-per-cooldown', () => {
  it('holds for a sound watch, whatever goes wrong', () => {
    const with4 = { with: ['outages', 'power', 'resets', 'chatter'] } as const;
    for (const keys of ['', 'cooldownEndsWhenShut: false', 'wakeOn: any-change']) {
      expect(
        hunted(watch(`alertCooldown: 10m, ${keys}`), 'one-alert-per-cooldown', with4),
      ).toBeNull();
    }
  });

  it('allows a drifting clock its drift', () => {
    const text = `${watch('alertCooldown: 10m')}device: { clockError: { min: -5%, max: 5% } }\n`;
    expect(hunted(text, 'one-alert-per-cooldown')).toBeNull();
  });
});

describe('delivered-in-the-end', () => {
  const outages = { with: ['outages'] } as const;

  it('holds for a watch that keeps what it could not send', () => {
    expect(hunted(watch('alertCooldown: 0s'), 'delivered-in-the-end', outages)).toBeNull();
  });

  it('is broken by one that drops it when the door shuts', () => {
    const found = hunted(watch('unsentWhenShut: drop'), 'delivered-in-the-end', outages);
    expect(found?.breach.what).toMatch(/^an alert given up /u);
    expect(found?.trial.networkDown).toHaveLength(1);
  });
});

describe('retained-memory-enough', () => {
  it('holds with resets, which leave retained memory as it is', () => {
    const faults = { with: ['resets', 'outages'] } as const;
    expect(hunted(watch('alertCooldown: 10m'), 'retained-memory-enough', faults)).toBeNull();
  });

  it('is broken by a power loss, which takes a pending alert or lets one be sent again', () => {
    const found = hunted(watch('alertCooldown: 10m'), 'retained-memory-enough', {
      with: ['power'],
    });
    expect(found?.trial.powerLost).toHaveLength(1);
    expect(found?.breach.what).toMatch(/^an alert forgotten |^a second alert /u);
  });
});
