// Mistakes in counting open checks and shut ones.
import type { WatchSettings } from '../../machine/index.js';
import type { Mutant } from '../mutant.js';

/** The widest window of checks that a watch can remember. */
const widestWindow = 30;

function withThreshold(watch: WatchSettings, open: number, outOf: number): WatchSettings {
  const fits = open >= 1 && open <= outOf && outOf <= widestWindow;
  return fits ? { ...watch, escalationThreshold: { open, outOf } } : watch;
}

export const countingMutants: readonly Mutant[] = [
  {
    name: 'threshold-one-less',
    mistake: 'one open check fewer than asked decides an alert',
    settings(watch) {
      const { open, outOf } = watch.escalationThreshold;
      return withThreshold(watch, open - 1, outOf);
    },
  },
  {
    name: 'threshold-one-more',
    mistake: 'it takes one open check more than asked to decide an alert',
    settings(watch) {
      const { open, outOf } = watch.escalationThreshold;
      return withThreshold(watch, open + 1, Math.max(open + 1, outOf));
    },
  },
  {
    name: 'window-one-shorter',
    mistake: 'one of the last checks too few is remembered',
    settings(watch) {
      const { open, outOf } = watch.escalationThreshold;
      return withThreshold(watch, open, outOf - 1);
    },
  },
  {
    name: 'window-one-longer',
    mistake: 'one of the last checks too many is remembered',
    settings(watch) {
      const { open, outOf } = watch.escalationThreshold;
      return withThreshold(watch, open, outOf + 1);
    },
  },
  {
    name: 'clear-one-less',
    mistake: 'one shut check fewer than asked clears the memory of open ones',
    settings: (watch) => ({ ...watch, clearThreshold: Math.max(1, watch.clearThreshold - 1) }),
  },
  {
    name: 'clear-one-more',
    mistake: 'it takes one shut check more than asked to clear the memory of open ones',
    settings: (watch) => ({ ...watch, clearThreshold: watch.clearThreshold + 1 }),
  },
  {
    name: 'open-checks-not-cleared',
    mistake: 'a door seen shut leaves the open checks counted',
    logic: () => ({
      keeps: (after, before, input) =>
        input.type === 'check' && input.contact === 'shut'
          ? { ...after, recentChecks: before.recentChecks }
          : after,
    }),
  },
  {
    name: 'shut-run-not-broken',
    mistake: 'an open check does not end the run of shut ones',
    logic: () => ({
      keeps: (after, before, input) =>
        input.type === 'check' && input.contact === 'open'
          ? { ...after, shutRun: before.shutRun }
          : after,
    }),
  },
  {
    name: 'heartbeat-clears-count',
    mistake: 'sending a heartbeat forgets the open checks',
    logic: () => ({
      keeps: (after, _, input) =>
        input.type === 'heartbeatAttempted' ? { ...after, recentChecks: 0 } : after,
    }),
  },
  {
    name: 'contact-reversed',
    mistake: 'an open contact is read as shut, a shut one as open',
    logic: () => ({
      takes: (input) =>
        input.type === 'check'
          ? { ...input, contact: input.contact === 'open' ? 'shut' : 'open' }
          : input,
    }),
  },
];
