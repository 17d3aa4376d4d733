// What a remedy writes into the watch file: all that differs, and a recheck interval that would otherwise follow.
import { expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { changesFrom } from '../../src/bounds/advice/plan.js';
import type { WatchSettings } from '../../src/machine/index.js';
import { watchWith } from '../support/experiments.js';

const minuteMs = 60_000;

/** Three minutes between checks and rechecks, before and after, but for what is given. */
function changes(before: Partial<WatchSettings>, after: Partial<WatchSettings>) {
  const same = {
    checkIntervalMs: deviceMs(3 * minuteMs),
    recheckIntervalMs: deviceMs(3 * minuteMs),
    ...before,
  };
  const list = changesFrom(watchWith(same), watchWith({ ...same, ...after }));
  return list.map(({ key, value }) => `${key}: ${value}`);
}

const one = { escalationThreshold: { open: 1, outOf: 1 } };
const two = { escalationThreshold: { open: 2, outOf: 2 } };
const shorter = { checkIntervalMs: deviceMs(2 * minuteMs) };

it('nothing is written where nothing changes', () => {
  expect(changes(two, {})).toEqual([]);
});

it('a recheck interval that followed the check interval is written where rechecks matter', () => {
  expect(changes(two, shorter)).toEqual(['recheckInterval: 3m', 'checkInterval: 2m']);
  expect(changes(one, { ...shorter, ...two })).toEqual([
    'recheckInterval: 3m',
    'checkInterval: 2m',
    'escalationThreshold: 2',
  ]);
});

it('a recheck interval goes on following the check interval where one open check is enough', () => {
  expect(changes(one, shorter)).toEqual(['checkInterval: 2m']);
  expect(changes(two, { ...shorter, ...one })).toEqual([
    'checkInterval: 2m',
    'escalationThreshold: 1',
  ]);
});

it('a recheck interval that was written is written again only where it changes', () => {
  const quick = { ...two, recheckIntervalMs: deviceMs(20_000) };
  expect(changes(quick, shorter)).toEqual(['checkInterval: 2m']);
  expect(changes(quick, { recheckIntervalMs: deviceMs(30_000) })).toEqual(['recheckInterval: 30s']);
});

it('of a threshold the number of checks is written where it is not the number of open ones', () => {
  const wide = { escalationThreshold: { open: 2, outOf: 3 } };
  expect(changes(two, wide)).toEqual(['escalationThreshold: { open: 2, outOf: 3 }']);
  expect(changes(wide, two)).toEqual(['escalationThreshold: 2']);
});

it('each other setting that a remedy may change is written where it changes', () => {
  const before: Partial<WatchSettings> = {
    wakeOn: 'timer',
    afterAlert: 'hold-until-reset',
    unsentWhenShut: 'drop',
    alertCooldownMs: deviceMs(30 * minuteMs),
  };
  const after: Partial<WatchSettings> = {
    wakeOn: 'any-change',
    afterAlert: 'keep-watching',
    unsentWhenShut: 'send',
    alertCooldownMs: deviceMs(0),
  };
  expect(changes(before, after)).toEqual([
    'wakeOn: any-change',
    'afterAlert: keep-watching',
    'unsentWhenShut: send',
    'alertCooldown: 0s',
  ]);
});
