// What is to be left out for a certificate is enough: written into the watch file, it has one of the states named.
import { describe, expect, it } from 'vitest';
import {
  type Certified,
  certificateText,
  questionOf,
  type SmallerProof,
  smallerProof,
} from '../../src/bounds/index.js';
import { watchFileOf } from '../support/bounds-answers.js';

function ended<Result>(steps: Generator<unknown, Result>): Result {
  for (;;) {
    const { done, value } = steps.next();
    if (done === true) return value;
  }
}

function smaller(text: string, mostStates: number): SmallerProof | null {
  return ended(smallerProof(questionOf(watchFileOf(text)), mostStates));
}

function certified(text: string, mostStates: number): Certified {
  return ended(certificateText(questionOf(watchFileOf(text)), mostStates));
}

interface Parts {
  readonly heartbeat?: string;
  readonly lowBattery?: string;
  readonly threshold?: string;
  readonly boot?: string;
  readonly connect?: string;
  readonly clock?: string;
  readonly environment?: string;
}

function watchText(parts: Parts): string {
  const { heartbeat = 'off', lowBattery = '', threshold = '2', environment = '{}' } = parts;
  const { boot = '400ms', connect = '4s', clock = '0%' } = parts;
  return `watch: { checkInterval: 3m, recheckInterval: 1m, escalationThreshold: ${threshold}, heartbeatInterval: ${heartbeat}${lowBattery} }
device: { bootTime: ${boot}, connectTime: ${connect}, clockError: ${clock} }
environment: ${environment}
`;
}

/** What a clause of the hint means for the parts of a watch file. */
function without(parts: Parts, change: string): Parts {
  const [, single = '', value = ''] = /^give a single (\w+), such as (\S+)$/u.exec(change) ?? [];
  if (single === 'bootTime') return { ...parts, boot: value };
  if (single === 'connectTime') return { ...parts, connect: value };
  if (single === 'clockError') return { ...parts, clock: value };
  if (change === 'leave out heartbeatInterval') return { ...parts, heartbeat: 'off' };
  if (change === 'leave out lowBattery') return { ...parts, lowBattery: '' };
  if (change === 'set escalationThreshold: 2') return { ...parts, threshold: '2' };
  const [, key = ''] = /^leave out (\w+) \(environment:\)$/u.exec(change) ?? [];
  const environment = (parts.environment ?? '').replace(new RegExp(`,? ?\\b${key}: \\w+`, 'u'), '');
  return { ...parts, environment: environment.replace('{,', '{') };
}

describe('what is named for a smaller certificate', () => {
  it.each<readonly [Parts, number, readonly string[]]>([
    [{ heartbeat: '1d' }, 200, ['leave out heartbeatInterval']],
    [{ lowBattery: ', lowBattery: { at: 20%, repeat: 7d }' }, 200, ['leave out lowBattery']],
    [{ threshold: '{ open: 3, outOf: 8 }' }, 80, ['set escalationThreshold: 2']],
    [
      { environment: '{ longestOutage: 20m, resets: 2 }' },
      900,
      ['leave out resets (environment:)'],
    ],
    [
      { environment: '{ longestOutage: 20m, resets: 2 }' },
      300,
      ['leave out resets (environment:)', 'leave out longestOutage (environment:)'],
    ],
    [
      { heartbeat: '1d', environment: '{ resets: 2 }', connect: '2s..6s' },
      120,
      ['leave out heartbeatInterval', 'leave out resets (environment:)'],
    ],
  ])('is enough for %j in %i states: %j', (parts, mostStates, changes) => {
    expect(certified(watchText(parts), mostStates).kind).toBe('not covered');
    const found = smaller(watchText(parts), mostStates);
    expect(found?.changes).toEqual(changes);
    const changed = changes.reduce(without, parts);
    const proof = certified(watchText(changed), mostStates);
    expect(proof).toMatchObject({
      kind: 'certificate',
      states: found?.states,
      bounds: found?.bounds,
    });
    // None of several is to spare.
    for (const kept of changes.length > 1 ? changes : []) {
      const fewer = changes.filter((change) => change !== kept).reduce(without, parts);
      expect(certified(watchText(fewer), mostStates).kind, kept).toBe('not covered');
    }
  });

  it('is nothing where nothing is enough', () => {
    expect(smaller(watchText({}), 3)).toBeNull();
    expect(smaller(watchText({ heartbeat: '1d', connect: '2s..6s' }), 3)).toBeNull();
  });
});
