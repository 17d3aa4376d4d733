// Options that stand in place of what a watch file says.
import type { WatchOverride } from '../../scenarios/index.js';

/** Settings of a watch as they were typed. */
export interface WatchOptions {
  readonly interval?: string | undefined;
  readonly recheck?: string | undefined;
  readonly threshold?: string | undefined;
  readonly clear?: string | undefined;
  readonly cooldown?: string | undefined;
  readonly wakeOn?: string | undefined;
  readonly leaveOpenAfter?: string | undefined;
  readonly reportWithin?: string | undefined;
  readonly quietUpTo?: string | undefined;
  readonly bootTime?: string | undefined;
  readonly connectTime?: string | undefined;
  readonly clockError?: string | undefined;
  readonly outage?: string | undefined;
  readonly outages?: string | undefined;
  readonly outagesApart?: string | undefined;
  readonly powerLosses?: string | undefined;
  readonly powerLossLasting?: string | undefined;
  readonly resets?: string | undefined;
  readonly chatter?: string | undefined;
}

type Reading = (text: string) => unknown;

const asText: Reading = (text) => text;

/** What is no number is left for the definition of watch files to complain of. */
const count: Reading = (text) => (/^\d{1,15}$/u.test(text.trim()) ? Number(text) : text);

const threshold: Reading = (text) => {
  const [, open, outOf] = /^\s*(\d{1,15})\s*(?:\/|of|out of)\s*(\d{1,15})\s*$/u.exec(text) ?? [];
  return open === undefined ? count(text) : { open: Number(open), outOf: Number(outOf) };
};

/** The ends of a range such as `1m..5m`; null where there is none. */
export function rangeEnds(text: string): readonly [from: string, to: string] | null {
  const dots = text.indexOf('..', 1);
  return dots < 0 || dots + 2 >= text.length
    ? null
    : [text.slice(0, dots).trim(), text.slice(dots + 2).trim()];
}

const places: readonly (readonly [
  option: keyof WatchOptions,
  flag: string,
  path: readonly string[],
  reading: Reading,
])[] = [
  ['interval', '--interval', ['watch', 'checkInterval'], asText],
  ['recheck', '--recheck', ['watch', 'recheckInterval'], asText],
  ['threshold', '--threshold', ['watch', 'escalationThreshold'], threshold],
  ['clear', '--clear', ['watch', 'clearThreshold'], count],
  ['cooldown', '--cooldown', ['watch', 'alertCooldown'], asText],
  ['wakeOn', '--wake-on', ['watch', 'wakeOn'], asText],
  ['leaveOpenAfter', '--leave-open-after', ['judge', 'leaveOpenAfter'], asText],
  ['reportWithin', '--report-within', ['judge', 'reportWithin'], asText],
  ['quietUpTo', '--quiet-up-to', ['judge', 'quietUpTo'], asText],
  ['bootTime', '--boot-time', ['device', 'bootTime'], asText],
  ['connectTime', '--connect-time', ['device', 'connectTime'], asText],
  ['clockError', '--clock-error', ['device', 'clockError'], asText],
  ['outage', '--outage', ['environment', 'longestOutage'], asText],
  ['outages', '--outages', ['environment', 'outages'], count],
  ['outagesApart', '--outages-apart', ['environment', 'outagesApart'], asText],
  ['powerLosses', '--power-losses', ['environment', 'powerLosses'], count],
  ['powerLossLasting', '--power-loss-lasting', ['environment', 'powerLossLasting'], asText],
  ['resets', '--resets', ['environment', 'resets'], count],
  ['chatter', '--chatter', ['environment', 'longestChatter'], asText],
];

export function overridesOf(options: WatchOptions): readonly WatchOverride[] {
  return places.flatMap(([option, source, path, reading]) => {
    const text = options[option];
    return text === undefined ? [] : [{ path, value: reading(text), text, source }];
  });
}
