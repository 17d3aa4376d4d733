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
    scene: 'left-open',
    mistake: 'it decides an alert one open check too early',
    settings(watch) {
      const { open, outOf } = watch.escalationThreshold;
      return withThreshold(watch, open - 1, outOf);
    },
  },
  {
    name: 'threshold-one-more',
    scene: 'left-open',
    mistake: 'it decides an alert one open check too late',
    settings(watch) {
      const { open, outOf } = watch.escalationThreshold;
      return withThreshold(watch, open + 1, Math.max(open + 1, outOf));
    },
  },
  {
    name: 'window-one-shorter',
    scene: 'shut-for-checks',
    mistake: 'it remembers one check too few',
    settings(watch) {
      const { open, outOf } = watch.escalationThreshold;
      return withThreshold(watch, open, outOf - 1);
    },
  },
  {
    name: 'window-one-longer',
    scene: 'shut-for-checks',
    mistake: 'it remembers one check too many',
    settings(watch) {
      const { open, outOf } = watch.escalationThreshold;
      return withThreshold(watch, open, outOf + 1);
    },
  },
  {
    name: 'clear-one-less',
    scene: 'shut-for-checks',
    mistake: 'it forgets the open checks one shut check too early',
    settings: (watch) => ({ ...watch, clearThreshold: Math.max(1, watch.clearThreshold - 1) }),
  },
  {
    name: 'clear-one-more',
    scene: 'shut-after-alert',
    mistake: 'it forgets the open checks one shut check too late',
    settings: (watch) => ({ ...watch, clearThreshold: watch.clearThreshold + 1 }),
  },
  {
    name: 'open-checks-not-cleared',
    scene: 'shut-for-checks',
    mistake: 'it keeps counting the old open checks after it saw the door shut',
    logic: () => ({
      keeps: (after, before, input) =>
        input.type === 'check' && input.contact === 'shut'
          ? { ...after, recentChecks: before.recentChecks }
          : after,
    }),
  },
  {
    name: 'shut-run-not-broken',
    scene: 'shut-for-checks',
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
    scene: 'heartbeat',
    mistake: 'it forgets the open checks when it sends a heartbeat',
    logic: () => ({
      keeps: (after, _, input) =>
        input.type === 'heartbeatAttempted' ? { ...after, recentChecks: 0 } : after,
    }),
  },
  {
    name: 'contact-reversed',
    scene: 'left-open',
    mistake: 'it reads an open contact as shut and a shut one as open',
    logic: () => ({
      takes: (input) =>
        input.type === 'check'
          ? { ...input, contact: input.contact === 'open' ? 'shut' : 'open' }
          : input,
    }),
  },
];
