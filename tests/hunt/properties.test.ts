// Each property that is tried by its name: it holds for a sound watch, and what breaks it is found.
import { describe, expect, it } from 'vitest';
import {
  type AdversityKind,
  breachOf,
  deviceProperties,
  type HuntQuestion,
  type HuntResult,
  hunt,
  type Trial,
} from '../../src/hunt/index.js';
import { simulate } from '../../src/sim/index.js';
import { deviceTiming } from '../../src/world/index.js';
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
    expect(found?.breach.subject).toEqual({ kind: 'alert', index: 0 });
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

describe('a device in place of the machine', () => {
  const hourMs = 3_600_000;
  const watchText = (interval: string, more = ''): string =>
    `watch: { checkInterval: ${interval}, escalationThreshold: 2, alertCooldown: 10m ${more} }\njudge: { leaveOpenAfter: 10m }\n`;

  /** What a device does that runs other settings than those that it should. */
  function breachBy(
    {
      asked,
      runs,
      stopped = null,
      toleranceMs,
    }: { asked: string; runs: string; stopped?: string | null; toleranceMs?: number },
    changes: Partial<Trial> = {},
    only: string | null = null,
  ): string | null {
    const { program } = huntQuestion(runs);
    const should = huntQuestion(asked);
    const question: HuntQuestion = {
      ...should,
      toleranceMs,
      properties: deviceProperties(should.program, should.watch)
        .map(({ property }) => property)
        .filter(({ name }) => only === null || name === only),
      run: (experiment) => ({ trace: simulate({ ...experiment, program }), stopped }),
    };
    const trial: Trial = {
      ...{ lengthMs: 12 * hourMs, powerOnAtMs: 0, openings: [], networkDown: [], powerLost: [] },
      ...{ batteryLow: [], resets: [], contactFaults: [] },
      timing: deviceTiming({}, question.timing),
      ...changes,
    };
    const found = breachOf(question, trial);
    return found === null ? null : `${found.property}: ${found.what}`;
  }

  it('has properties that its settings call for', () => {
    const namesOf = (more: string): readonly string[] => {
      const { program, watch } = huntQuestion(watchText('3m', more));
      return deviceProperties(program, watch).map(({ property }) => property.name);
    };
    const always = ['keeps-running', 'one-alert-per-cooldown', 'spares-the-battery'];
    expect(namesOf(', unsentWhenShut: drop')).toEqual(always);
    expect(namesOf('').filter((name) => !always.includes(name))).toEqual(['delivered-in-the-end']);
    const more = ', unsentWhenShut: drop, afterAlert: hold-until-reset, heartbeatInterval: 1h';
    expect(namesOf(more).filter((name) => !always.includes(name))).toEqual([
      'holds-after-its-alert',
      'keeps-its-heartbeats',
    ]);
  });

  it('may do as the machine does, and must run to the end', () => {
    const same = { asked: watchText('3m'), runs: watchText('3m') };
    expect(breachBy(same)).toBeNull();
    expect(breachBy({ ...same, stopped: 'it stopped' })).toBe('keeps-running: it stopped');
  });

  it('may be awake four times as long as the machine and five minutes more, and no longer', () => {
    // 240 checks of 0.4 s each: 1 min 36 s, of which four times and 5 min are 11 min 24 s.
    const asked = watchText('3m');
    expect(breachBy({ asked, runs: watchText('20s') })).toBe(
      'spares-the-battery: awake for 14 min 7 s in 2118 wakes, but the watch for only 1 min 36 s in 240',
    );
    expect(breachBy({ asked, runs: watchText('25s') })).toBeNull();
    // Here the contact also wakes it.
    const openings: Trial['openings'] = [[hourMs + 5_000, hourMs + 9_000]];
    const woken = { asked, runs: watchText('20s', ', wakeOn: any-change') };
    expect(breachBy(woken, { openings })).toContain('in 2119 wakes, but');
  });

  it('is also awake while it waits for the network', () => {
    // Each try waits for half a minute: with 120 tries an hour it is awake all the time, with 20 for a sixth of it.
    const waits = (every: string): string =>
      `${watchText('3m', `, retry: { interval: ${every}, attempts: 100 }`)}device: { joinWait: 30s }\n`;
    const openings: Trial['openings'] = [[hourMs, 12 * hourMs]];
    const networkDown: Trial['networkDown'] = [[0, 12 * hourMs]];
    const often = { asked: waits('10m'), runs: waits('10s') };
    expect(breachBy(often, { openings, networkDown })).toMatch(/^spares-the-battery: /u);
    expect(breachBy({ ...often, runs: waits('5m') }, { openings, networkDown })).toBeNull();
  });

  it('is also awake while it sends', () => {
    // An alert each minute takes 30 s to send.
    const sends = (cooldown: string): string =>
      `${watchText('1m').replace('10m }', `${cooldown} }`).replace('alertCooldown: 10m', `alertCooldown: ${cooldown}`)}device: { connectTime: 30s }\n`;
    const openings: Trial['openings'] = [[hourMs, 11 * hourMs]];
    const often = { asked: sends('60m'), runs: sends('1m') };
    const question = breachBy(often, { openings });
    expect(question).toMatch(/^one-alert-per-cooldown: /u);
    expect(breachBy(often, { openings }, 'spares-the-battery')).toMatch(
      /^spares-the-battery: awake for \d h/u,
    );
  });

  it('tries at least half of the heartbeats that the machine tries, delivered or not', () => {
    const beats = (every: string): string => watchText('3m', `, heartbeatInterval: ${every}`);
    const hourly = (every: string) => ({ asked: beats('1h'), runs: beats(every) });
    const few = 'keeps-its-heartbeats: 5 heartbeats, but the watch tries 11';
    expect(breachBy(hourly('1h45m'))).toBeNull();
    expect(breachBy(hourly('2h'))).toBe(few);
    expect(breachBy(hourly('2h'), { networkDown: [[0, 12 * hourMs]] })).toBe(few);
    // By a clock that is fast by a tenth, the machine tries more of them.
    const fast = (every: string): string => `${beats(every)}device: { clockError: -10% }\n`;
    expect(breachBy({ asked: fast('1h'), runs: fast('2h') })).toMatch(/^keeps-its-heartbeats: /u);
    expect(breachBy({ asked: beats('6h'), runs: beats('13h') })).toBeNull();
    expect(breachBy({ asked: beats('5h'), runs: beats('13h') })).toBe(
      'keeps-its-heartbeats: 0 heartbeats, but the watch tries 2',
    );
  });

  it('sends nothing after its alert until it is reset, where it is to hold', () => {
    const holds = watchText('3m', ', afterAlert: hold-until-reset');
    const again = { asked: holds, runs: watchText('3m') };
    const visitMs = 12 * 60_000;
    const openings: Trial['openings'] = [1, 4].map((hour) => [
      hour * hourMs,
      hour * hourMs + visitMs,
    ]);
    const between = 3 * hourMs;
    expect(breachBy({ ...again, runs: holds }, { openings })).toBeNull();
    expect(breachBy(again, { openings })).toMatch(/^holds-after-its-alert: an alert 3 h /u);
    expect(
      breachBy(again, { openings, resets: [{ kind: 'button', atMs: between, clears: false }] }),
    ).toBeNull();
    expect(breachBy(again, { openings, powerLost: [[between, between + 1_000]] })).toBeNull();
    // What came before the first alert, or after the second, excuses nothing.
    for (const hour of [0.5, 5]) {
      const atMs = hour * hourMs;
      const reset: Trial['resets'] = [{ kind: 'button', atMs, clears: false }];
      expect(breachBy(again, { openings, resets: reset })).not.toBeNull();
      expect(breachBy(again, { openings, powerLost: [[atMs, atMs + 1_000]] })).not.toBeNull();
    }
  });

  it('leaves the cooldown between two alerts', () => {
    const short = { asked: watchText('3m'), runs: watchText('3m').replace('10m', '4m') };
    const openings: Trial['openings'] = [[hourMs, 2 * hourMs]];
    expect(breachBy(short, { openings })).toBe(
      'one-alert-per-cooldown: an alert 6 min 1 s after the last delivery',
    );
    expect(breachBy({ ...short, toleranceMs: 200_000 }, { openings })).not.toBeNull();
    expect(breachBy({ ...short, toleranceMs: 240_000 }, { openings })).toBeNull();
  });
});
