// Why steps are as long as they are: the setting of the watch that takes most of the time of each.
import { greatestOf, itemAt } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';
import type { Candidate } from './endings.js';
import type { Awaited, LongSetting } from './plan.js';
import { play } from './play.js';

/** How long the watch has a setting. */
export function settingMs(watch: WatchSettings, setting: LongSetting): number {
  switch (setting) {
    case 'checkInterval':
      return watch.checkIntervalMs;
    case 'recheckInterval':
      return watch.recheckIntervalMs;
    case 'retry.interval':
      return watch.retryIntervalMs;
    case 'alertCooldown':
      return watch.alertCooldownMs;
    case 'heartbeatInterval':
      return watch.heartbeatIntervalMs ?? 0;
  }
}

export function waitsFor({ waits }: Candidate, setting: Awaited): boolean {
  return waits.some((wait) => wait.setting === setting);
}

const sleeps = {
  check: 'checkInterval',
  recheck: 'recheckInterval',
  retry: 'retry.interval',
} as const;

/** The setting that takes most of the time of a step: what it waits for, or of the rest the sleeps of one kind. */
export function longBy({ stage, actions, endsMs, waits }: Candidate): LongSetting {
  const took = new Map<LongSetting, number>();
  const add = (setting: LongSetting, ms: number): void => {
    took.set(setting, (took.get(setting) ?? 0) + ms);
  };
  for (const { setting, fromMs, toMs } of waits) add(setting, toMs - fromMs);
  const { question, corners } = stage;
  const trace = play(question.program, { actions, endsMs, corner: itemAt(corners, 0), question });
  for (const { sleep, repeats, periodMs } of trace.wakes) {
    for (let index = 0; sleep !== null && index <= repeats; index += 1) {
      const fromMs = sleep.fromMs + index * periodMs;
      const span = { fromMs, toMs: Math.min(fromMs + sleep.lengthMs, endsMs) };
      const waited = waits.reduce((sum, wait) => sum + overlapMs(wait, span), 0);
      add(sleeps[sleep.interval], Math.max(0, span.toMs - fromMs - waited));
    }
  }
  const most = greatestOf([...took.values()]);
  return [...took].find(([, ms]) => ms === most)?.[0] ?? 'checkInterval';
}

interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

function overlapMs(one: Span, other: Span): number {
  return Math.max(0, Math.min(one.toMs, other.toMs) - Math.max(one.fromMs, other.fromMs));
}
