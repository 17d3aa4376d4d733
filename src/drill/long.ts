// Why steps are as long as they are: the setting of the watch that takes most of the time of each.
import { itemAt } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';
import type { Candidate } from './endings.js';
import type { Awaited, Drill, LongSetting, LongSteps } from './plan.js';
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

/** How much of the time of a step each setting takes: what it waits for, and of the rest the sleeps of each kind. */
export function longBy({
  stage,
  actions,
  endsMs,
  waits,
}: Candidate): ReadonlyMap<LongSetting, number> {
  const took = new Map<LongSetting, number>();
  const add = (setting: LongSetting, ms: number): void => {
    took.set(setting, (took.get(setting) ?? 0) + ms);
  };
  for (const { setting, fromMs, toMs } of waits) add(setting, toMs - fromMs);
  const { question, corners } = stage;
  const trace = play(question.program, { actions, endsMs, corner: itemAt(corners, 0), question });
  for (const [number, { sleep, repeats, periodMs }] of trace.wakes.entries()) {
    // A reset or an edge of the contact can end a sleep too soon.
    const nextMs = trace.wakes[number + 1]?.wakeMs ?? endsMs;
    for (let index = 0; sleep !== null && index <= repeats; index += 1) {
      const fromMs = sleep.fromMs + index * periodMs;
      const span = { fromMs, toMs: Math.min(fromMs + sleep.lengthMs, nextMs, endsMs) };
      const waited = waits.reduce((sum, wait) => sum + overlapMs(wait, span), 0);
      add(sleeps[sleep.interval], Math.max(0, span.toMs - fromMs - waited));
    }
  }
  return took;
}

/** Settings that take less than this share of a drill, and make no step longer than the others, are not worth a word. */
const leastLongShare = 0.25;

/**
 * The settings to name for the length of a drill: those of each step that lasts longer than the typical one, so that they account
 * for most of its time; and always that of the longest step.
 */
export function longToName({
  steps,
  totalMs,
  long,
}: Pick<Drill, 'steps' | 'totalMs' | 'long'>): readonly LongSteps[] {
  const lengths = steps.map(({ endsMs }) => endsMs).sort((a, b) => a - b);
  const typicalMs = lengths[Math.floor((lengths.length - 1) / 2)] ?? 0;
  const longestMs = lengths.at(-1) ?? 0;
  return long.filter(
    ({ lastMs, steps: numbers }) =>
      lastMs >= leastLongShare * totalMs ||
      numbers.some((number) => {
        const { endsMs } = itemAt(steps, number - 1);
        return endsMs > typicalMs || endsMs === longestMs;
      }),
  );
}

interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

function overlapMs(one: Span, other: Span): number {
  return Math.max(0, Math.min(one.toMs, other.toMs) - Math.max(one.fromMs, other.fromMs));
}
