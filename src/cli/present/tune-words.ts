// Settings and requirements in words.
import { durationText, roughDurationText } from '../../base/index.js';
import { lifeText } from '../../battery/index.js';
import type { WatchSettings } from '../../machine/index.js';
import { writeDuration } from '../../scenarios/index.js';
import type { RequirementName, Tuned } from '../../tune/index.js';

export function thresholdText({ open, outOf }: Tuned['escalationThreshold']): string {
  return open === outOf ? String(open) : `${String(open)} of ${String(outOf)}`;
}

/** A duration that may have no end. */
export function boundText(ms: number, none: string): string {
  return Number.isFinite(ms) ? roughDurationText(ms) : none;
}

export function livesText(ms: number): string {
  return lifeText(Number.isFinite(ms) ? ms : null);
}

/** Three figures. */
export function countText(perYear: number): string {
  return perYear >= 100 ? String(Math.round(perYear)) : String(Number(perYear.toPrecision(3)));
}

const options: Readonly<Record<RequirementName, string>> = {
  sureFrom: '--sure-from',
  worstDelay: '--worst-delay',
  quietUpTo: '--quiet-up-to',
  life: '--life',
  falseAlarms: '--false-alarms',
};

/** `--life 60d`: a requirement as its option says it. Rounded to the side that is easier to meet. */
export function requirementText(name: RequirementName, value: number): string {
  const option = options[name];
  if (name === 'falseAlarms') return `${option} ${countText(value)}/year`;
  return `${option} ${writeDuration(easier(name, value))}`;
}

const dayMs = 86_400_000;

function easier(name: RequirementName, ms: number): number {
  if (name === 'life') {
    const grain = ms >= dayMs ? dayMs : 3_600_000;
    return Math.max(
      1,
      ms === Math.round(ms) && ms % grain === 0 ? ms : Math.floor(ms / grain) * grain,
    );
  }
  const grain = ms >= 60_000 ? 1_000 : 100;
  return name === 'quietUpTo' ? Math.floor(ms / grain) * grain : Math.ceil(ms / grain) * grain;
}

/** What a requirement asks for, in words. */
export function askedText(name: RequirementName, value: number): string {
  switch (name) {
    case 'sureFrom':
      return `every opening of ${durationText(value)} or longer is reported`;
    case 'worstDelay':
      return `told within ${durationText(value)}`;
    case 'quietUpTo':
      return `no alert for an opening of up to ${durationText(value)}`;
    case 'life':
      return `${livesText(value)} on a charge`;
    case 'falseAlarms':
      return `at most ${countText(value)} false alarms a year`;
  }
}

/** What is to be written into a watch file for settings, a line each; empty: it has them. */
export function linesToWrite(watch: WatchSettings, tuned: Tuned): readonly string[] {
  const { open, outOf } = tuned.escalationThreshold;
  const was = watch.escalationThreshold;
  const line = (isNew: boolean, text: string): readonly string[] => (isNew ? [text] : []);
  const written = writeDuration;
  // A recheck interval that is not written down follows the check interval.
  const follows =
    watch.recheckIntervalMs === watch.checkIntervalMs &&
    tuned.checkIntervalMs !== watch.checkIntervalMs;
  return [
    ...line(
      tuned.checkIntervalMs !== watch.checkIntervalMs,
      `checkInterval: ${written(tuned.checkIntervalMs)}`,
    ),
    ...line(
      follows || tuned.recheckIntervalMs !== watch.recheckIntervalMs,
      `recheckInterval: ${written(tuned.recheckIntervalMs)}`,
    ),
    ...line(
      open !== was.open || outOf !== was.outOf,
      `escalationThreshold: ${open === outOf ? String(open) : `{ open: ${String(open)}, outOf: ${String(outOf)} }`}`,
    ),
    ...line(
      tuned.alertCooldownMs !== watch.alertCooldownMs,
      `alertCooldown: ${written(tuned.alertCooldownMs)}`,
    ),
    ...line(tuned.wakeOn !== watch.wakeOn, `wakeOn: ${tuned.wakeOn}`),
  ];
}
