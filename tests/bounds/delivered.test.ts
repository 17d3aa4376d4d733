// Sure from is a promise of delivery: an alert that is decided can still be dropped, lost with the power, or never sent again.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import {
  type BoundsQuestion,
  boundsOf,
  detectionBounds,
  questionOf as questionOfFile,
  type Witness,
} from '../../src/bounds/index.js';
import { effectBit, inputCode, inputCodes, type LogicTable } from '../../src/machine/index.js';
import type { Environment } from '../../src/model/index.js';
import { simulate } from '../../src/sim/index.js';
import { judge } from '../../src/verdict/index.js';
import { questionOf } from './question.js';

const minutes = (count: number) => deviceMs(count * 60_000);
const hourMs = 3_600_000;

function asked(unsentWhenShut: 'send' | 'drop', environment: Partial<Environment>): BoundsQuestion {
  const watch = { checkIntervalMs: minutes(2), recheckIntervalMs: minutes(2), unsentWhenShut };
  return questionOf(watch, { environment, leaveOpenAfterMs: 300_000 });
}

/** How the opening of a witness is judged, where it counts as a leave-open. */
function outcomeOf({ program, judge: rules }: BoundsQuestion, witness: Witness | undefined) {
  if (witness === undefined) throw new Error('there is a witness');
  const { world, timing } = witness.experiment;
  const trace = simulate({ program, timing, world, seed: '' }, { record: 'none' });
  const { openings } = judge(world.openings, trace, rules);
  return openings.at(witness.opening);
}

describe('sure from', () => {
  it('is from when an alert is always decided, where nothing can come between', () => {
    for (const environment of [{}, { longestOutageMs: hourMs }, { resets: 1 }]) {
      const bounds = detectionBounds(asked('send', environment));
      expect(bounds.alwaysReportedFromMs).toEqual(bounds.alwaysDecidedFromMs);
    }
    const bounds = detectionBounds(asked('send', { longestOutageMs: hourMs }));
    expect(bounds.alwaysReportedFromMs.atRest).toBe(240_800);
  });

  it.each<readonly [string, BoundsQuestion, number]>([
    ['an alert is dropped', asked('drop', { longestOutageMs: hourMs }), 240_800],
    [
      'an alert goes with the power',
      asked('send', { longestOutageMs: hourMs, powerLosses: 1, longestPowerLossMs: 1 }),
      361_601,
    ],
    ['an attempt is cut by a reset, and dropped', asked('drop', { resets: 1 }), 241_200],
  ])('is later where %s, and a run shows it', (_, question, decidedFromMs) => {
    const bounds = boundsOf(question);
    const sureMs = bounds.alwaysReportedFromMs.atRest ?? 0;
    expect(bounds.alwaysDecidedFromMs.atRest).toBe(decidedFromMs);
    expect(sureMs).toBeGreaterThan(decidedFromMs);
    expect(sureMs).toBeLessThanOrEqual((bounds.worstDelayMs.atRest ?? 0) + 1);
    expect(bounds.safeLimits).toEqual([]);
    expect(bounds.holds.leaveOpenAfter.atRest).toBe(sureMs <= 300_000);
    const missed = bounds.witnesses.find(({ bound }) => bound === 'alwaysReportedFromMs.atRest');
    const opening = outcomeOf(question, missed);
    expect(opening.durationMs).toBe(sureMs - 1);
    expect(opening.delayMs).toBeNull();
    expect(bounds.findings.map(({ code }) => code)).toContain('alert-lost');
  });

  it('is helped by sending what is unsent, and by nothing while the power may fail in an outage', () => {
    const [remedy] = boundsOf(asked('drop', { longestOutageMs: hourMs })).remedies;
    expect(remedy?.changes).toEqual([{ key: 'unsentWhenShut', value: 'send' }]);
    expect(remedy?.alwaysReportedFromMs).toBe(240_800);
    const powerless = boundsOf(asked('send', { longestOutageMs: hourMs, powerLosses: 1 }));
    expect(powerless.remedies).toEqual([]);
  });
});

/** The same logic, but that a check of a shut door does not go on with a pending alert, and does not drop it. */
function onlyWhenOpen(table: LogicTable): LogicTable {
  const next = table.next.slice();
  const effects = table.effects.slice();
  for (const [state, memory] of table.memories.entries()) {
    if (table.phases[state] !== 'awake' || !memory.alertPending) continue;
    for (const facts of [0, inputCode.checkCooldownOver, inputCode.checkHeartbeatDue, 6]) {
      const cell = state * inputCodes + inputCode.check + facts;
      const sending = table.next[cell] ?? 0;
      next[cell] = table.next[sending * inputCodes + inputCode.alertFailed] ?? 0;
      effects[cell] = effectBit.sleepCheck;
    }
  }
  return { ...table, next, effects };
}

describe('sure from, of other logic', () => {
  it('is later where a pending alert is never sent again once the door is shut', () => {
    const sound = asked('send', { longestOutageMs: hourMs });
    const {
      program,
      timing,
      judge: rules,
      contact,
      sealGapUm,
      opensAtLeastUm,
      reset,
      environment,
    } = sound;
    const rest = { contact, sealGapUm, opensAtLeastUm, reset, environment };
    const file = { watch: program.watch, timing, judge: rules, ...rest };
    const table = onlyWhenOpen(program.table);
    const question = questionOfFile(file, { table, ownLogic: true });
    const bounds = boundsOf(question);
    expect(bounds.alwaysDecidedFromMs.atRest).toBe(240_800);
    expect(bounds.alwaysReportedFromMs.atRest).toBeGreaterThan(hourMs);
    const missed = bounds.witnesses.find(({ bound }) => bound === 'alwaysReportedFromMs.atRest');
    expect(outcomeOf(question, missed)).toMatchObject({ outcome: 'missed' });
    expect(bounds.remedies).toEqual([]);
  });
});
