// Heartbeats far apart are not followed from power-on: one may come at any check. The bounds stay what they are with every
// heartbeat followed, and each is shown by a run.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import {
  boundsOf,
  longestMs,
  modelOf,
  questionOf as questionOfFile,
  search,
  searchesFor,
  sureFromMs,
} from '../../src/bounds/index.js';
import type { WatchSettings } from '../../src/machine/index.js';
import { watchFileOf } from '../support/bounds-answers.js';
import { rangesWith } from '../support/experiments.js';
import { questionOf } from './question.js';

const dayMs = 86_400_000;

const small: Partial<WatchSettings> = {
  checkIntervalMs: deviceMs(7),
  recheckIntervalMs: deviceMs(4),
  retryIntervalMs: deviceMs(5),
  alertCooldownMs: deviceMs(15),
  heartbeats: true,
  heartbeatIntervalMs: deviceMs(600),
};

const watches: readonly (readonly [name: string, watch: Partial<WatchSettings>])[] = [
  ['a cooldown that only time ends', { ...small, cooldownEndsWhenShut: false }],
  ['unsent alerts dropped', { ...small, unsentWhenShut: 'drop', retryAttempts: 2 }],
];

describe('heartbeats far apart', () => {
  it.each(watches)('matter as much as when each is followed: %s', (_, watch) => {
    const timing = rangesWith({ bootMs: 1, connectMs: 3 });
    const model = modelOf(questionOf(watch, { timing }));
    for (const sought of [searchesFor.atRest, searchesFor.anyState]) {
      const [followed, seldom] = (['timed', 'seldom'] as const).map((heartbeats) => {
        const result = search({ ...model, heartbeats }, sought);
        return { ...result, sureFromMs: sureFromMs(result), longestMs: longestMs(result) };
      });
      expect(seldom?.sureFromMs).toBe(followed?.sureFromMs);
      expect(seldom?.longestMs).toBe(followed?.longestMs);
      expect(seldom?.nodes).toBeLessThan(followed?.nodes ?? 0);
    }
  });

  it('lengthen the cooldown of the plain watch by one send, once a day, and a run shows it', () => {
    const bounds = boundsOf(
      questionOf(
        { heartbeats: true, heartbeatIntervalMs: deviceMs(dayMs) },
        {
          leaveOpenAfterMs: 2_000_000,
        },
      ),
    );
    // A send of 4 s that the door has shut and opened in, ten gaps of 180.4 s, and a heartbeat of 4 s in one of them.
    expect(bounds.alwaysReportedFromMs.anyState).toBe(4_000 - 2 + 10 * 180_400 + 4_000 + 1);
    expect(bounds.safeLimits).toEqual([]);
  });
});

describe('messages that cost a requirement', () => {
  const findingsFor = (judge: string, more = '') => {
    const watch = `checkInterval: 3m, recheckInterval: 1m, wakeOn: opening, ${more}`;
    const file = watchFileOf(`watch: { ${watch} }\njudge: { leaveOpenAfter: ${judge} }\n`);
    return boundsOf(questionOfFile(file)).findings.filter(({ code }) => code === 'messages-delay');
  };

  it('are named, with what the watch would be sure from without them', () => {
    const [found] = findingsFor('3m', 'heartbeatInterval: 1h');
    expect(found?.sentence).toMatch(
      /a heartbeat .* does not wake it meanwhile: .* from 1 min \d s/u,
    );
  });

  it('are named without the contact where it wakes the device in no case', () => {
    const file = watchFileOf(
      'watch: { checkInterval: 1m, heartbeatInterval: 1h }\ndevice: { connectTime: 30s }\njudge: { leaveOpenAfter: 2m5s }\n',
    );
    const sentences = boundsOf(questionOfFile(file)).findings.map(({ sentence }) => sentence);
    expect(sentences.filter((sentence) => sentence.includes('a heartbeat the device'))).toEqual([
      expect.stringMatching(/makes no check: without such messages .* from 2 min 1 s at rest/u),
    ]);
  });

  it('are not where the requirement is met, or there are none', () => {
    expect(findingsFor('5m', 'heartbeatInterval: 1h')).toEqual([]);
    expect(findingsFor('3m')).toEqual([]);
  });
});
