// A few watches among which each fault of the catalogue matters somewhere, and where it shows.

export const watchTexts = {
  plain: `watch: { checkInterval: 3m, recheckInterval: 20s, escalationThreshold: 2, alertCooldown: 10m, retry: { interval: 1m, attempts: 2 } }
judge: { leaveOpenAfter: 4m, reportWithin: 15m, quietUpTo: 19s }
`,
  window: `watch: { checkInterval: 1m, escalationThreshold: { open: 2, outOf: 3 }, clearThreshold: 3, alertCooldown: 5m, cooldownEndsWhenShut: false, retry: { interval: 10s, attempts: 1 } }
judge: { leaveOpenAfter: 4m }
`,
  cleared: `watch: { checkInterval: 1m, escalationThreshold: { open: 2, outOf: 3 }, clearThreshold: 2, alertCooldown: 0s, retry: { interval: 10s, attempts: 2 } }
judge: { leaveOpenAfter: 4m }
`,
  beat: `watch: { checkInterval: 1m, escalationThreshold: 2, alertCooldown: 0s, heartbeatInterval: 5m, retry: { interval: 10s, attempts: 1 } }
judge: { leaveOpenAfter: 4m }
`,
  slow: `watch: { checkInterval: 80m, recheckInterval: 2m, escalationThreshold: 2, alertCooldown: 2h }
judge: { leaveOpenAfter: 90m }
`,
  hold: `watch: { checkInterval: 1m, escalationThreshold: 2, afterAlert: hold-until-reset }
judge: { leaveOpenAfter: 3m }
`,
  opening: `watch: { checkInterval: 1m, escalationThreshold: 2, wakeOn: opening, alertCooldown: 10m }
device: { bootTime: 0ms, connectTime: 0ms }
judge: { leaveOpenAfter: 3m }
`,
  edges: `watch: { checkInterval: 1m, escalationThreshold: 2, wakeOn: any-change, alertCooldown: 10m }
device: { bootTime: 0ms, connectTime: 0ms }
judge: { leaveOpenAfter: 3m }
`,
  strict: `watch: { checkInterval: 1m, escalationThreshold: 2, wakeOn: any-change, alertCooldown: 10m, cooldownEndsWhenShut: false, unsentWhenShut: drop }
device: { bootTime: 0ms, connectTime: 0ms }
judge: { leaveOpenAfter: 3m }
`,
  often: `watch: { checkInterval: 10s, escalationThreshold: 2, alertCooldown: 10m, cooldownEndsWhenShut: false }
judge: { leaveOpenAfter: 4m }
`,
  keeps: `watch: { checkInterval: 1m, escalationThreshold: 2, alertCooldown: 10m }
device: { connectTime: 30s, reset: { button: keeps, watchdog: keeps, software: keeps } }
judge: { leaveOpenAfter: 4m }
`,
  eager: `watch: { checkInterval: 1m, escalationThreshold: 1, alertCooldown: 0s, retry: { interval: 10s, attempts: 2 } }
judge: { leaveOpenAfter: 4m }
`,
} as const;

export type WatchName = keyof typeof watchTexts;

/** What the environment may do while bounds are sought. */
export type EnvironmentName =
  | 'calm'
  | 'outage'
  | 'shortOutage'
  | 'twoOutages'
  | 'reset'
  | 'power'
  | 'chatter'
  | 'longChatter';

const dayMs = 86_400_000;

/** Mistakes with clocks and counters, which bounds do not search: where a hunt shows each, and in timelines of which length. */
export const shownInTime: Readonly<Record<string, readonly [WatchName, lengthMs: number]>> = {
  'quiet-hours': ['plain', 7 * dayMs],
  'weekly-housekeeping': ['often', 9 * dayMs],
  'wakes-in-8-bits': ['often', dayMs],
  'wakes-in-15-bits': ['often', 5 * dayMs],
  'wakes-in-16-bits': ['often', 9 * dayMs],
  'clock-in-32-bits': ['plain', 60 * dayMs],
  'signed-remaining-time': ['plain', 40 * dayMs],
};

/** Where bounds show each of the others. */
export const shownBy: Readonly<Record<string, readonly [WatchName, EnvironmentName]>> = {
  'state-saved-after-send': ['keeps', 'reset'],
  'threshold-one-less': ['plain', 'calm'],
  'threshold-one-more': ['plain', 'calm'],
  'window-one-shorter': ['window', 'chatter'],
  'window-one-longer': ['window', 'longChatter'],
  'clear-one-less': ['cleared', 'chatter'],
  'clear-one-more': ['edges', 'calm'],
  'open-checks-not-cleared': ['edges', 'chatter'],
  'shut-run-not-broken': ['cleared', 'chatter'],
  'heartbeat-clears-count': ['beat', 'calm'],
  'contact-reversed': ['plain', 'calm'],
  'open-checks-not-retained': ['plain', 'calm'],
  'alert-not-retained': ['plain', 'outage'],
  'cooldown-not-retained': ['plain', 'calm'],
  'memory-lost-on-reset': ['plain', 'reset'],
  'alert-on-first-open-check': ['plain', 'power'],
  'cooldown-never-over': ['plain', 'calm'],
  'cooldown-not-ended-by-shut': ['edges', 'calm'],
  'cooldown-ended-by-shut': ['strict', 'calm'],
  'cooldown-ended-by-open': ['plain', 'calm'],
  'cooldown-from-attempt': ['plain', 'reset'],
  'cooldown-from-decision': ['plain', 'outage'],
  'cooldown-not-after-retry': ['plain', 'outage'],
  'cooldown-in-milliseconds': ['plain', 'calm'],
  'cooldown-overflow': ['slow', 'calm'],
  'alert-only-once': ['plain', 'calm'],
  'alert-never-retried': ['plain', 'outage'],
  'retry-never-falls-back': ['plain', 'outage'],
  'fall-back-for-good': ['plain', 'outage'],
  'fall-back-one-early': ['plain', 'outage'],
  'fall-back-one-late': ['plain', 'shortOutage'],
  'failures-not-reset': ['plain', 'twoOutages'],
  'unsent-dropped': ['edges', 'outage'],
  'unsent-kept': ['strict', 'outage'],
  'holds-after-alert': ['plain', 'calm'],
  'never-holds': ['hold', 'calm'],
  'retry-in-milliseconds': ['plain', 'outage'],
  'recheck-after-check-interval': ['plain', 'calm'],
  'retry-after-check-interval': ['plain', 'outage'],
  'check-after-retry-interval': ['plain', 'calm'],
  'recheck-after-alert': ['plain', 'calm'],
  'sleep-overflow': ['slow', 'calm'],
  'recheck-in-milliseconds': ['plain', 'calm'],
  'edges-not-armed': ['opening', 'calm'],
  'shut-edge-not-armed': ['edges', 'calm'],
  'wrong-edge-armed': ['opening', 'calm'],
};
