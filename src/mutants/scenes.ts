// The scenes that show the mistakes: what to put into a scenario, and what it must expect, so that it notices each mistake of its
// scene. A test writes a scenario by these words for every mistake.

/** What happens in a scenario, roughly: the groups that programs are given. */
export type SceneKind =
  | 'left-open'
  | 'long-open'
  | 'opened-again'
  | 'outage'
  | 'reset'
  | 'long-timeline';

/** An expectation that a scene needs. `delay`: worstDelayAtMost and worstDelayAtLeast, both the latency of the sound watch. */
export type SceneExpectation =
  | 'alerts'
  | 'falseAlarms'
  | 'repeats'
  | 'reported'
  | 'undelivered'
  | 'delay';

export interface Scene {
  readonly kind: SceneKind;
  /** What the scenarios have: it goes on after 'Scenarios with'. */
  readonly has: string;
  readonly expects: readonly SceneExpectation[];
}

export const scenes = {
  'left-open': {
    kind: 'left-open',
    has: 'a door that is left open from between two checks until its alert',
    expects: ['alerts', 'falseAlarms', 'delay'],
  },
  heartbeat: {
    kind: 'left-open',
    has: 'a door that is left open from just before a heartbeat is due until its alert',
    expects: ['alerts', 'delay'],
  },
  'long-open': {
    kind: 'long-open',
    has: 'a door that stays open after its alert: until just before alertCooldown is over, or until several checks after that',
    expects: ['alerts', 'repeats'],
  },
  'opened-later': {
    kind: 'long-open',
    has: 'a door that is left open from just before a check until just after its alert, and again, once alertCooldown is over, from just after a check until its alert',
    expects: ['delay'],
  },
  'shut-for-checks': {
    kind: 'opened-again',
    has: 'a door that is open for fewer checks than decide an alert, shut for one check or a few, and then left open until its alert',
    expects: ['alerts', 'falseAlarms', 'delay'],
  },
  'shut-after-alert': {
    kind: 'opened-again',
    has: 'a door that shuts just after its alert, for one check or a few, and is then left open until after alertCooldown',
    expects: ['alerts', 'delay'],
  },
  'shut-for-a-moment': {
    kind: 'opened-again',
    has: 'a door that opens and shuts again before the next check, and is left open from before that check until its alert',
    expects: ['alerts', 'falseAlarms', 'delay'],
  },
  outage: {
    kind: 'outage',
    has: 'a network that is down when an alert is due: for one attempt, for one fewer than retry.attempts, for as many as that, and for twice as many',
    expects: ['alerts', 'repeats', 'undelivered', 'delay'],
  },
  'open-after-outage': {
    kind: 'outage',
    has: 'a network that is down when an alert is due, for one attempt or for retry.attempts attempts, and a door that stays open after the delivery until just before alertCooldown is over',
    expects: ['alerts', 'repeats'],
  },
  'two-outages': {
    kind: 'outage',
    has: 'a door that is left open twice, and a network that is down for one attempt of the first alert, and for one fewer than retry.attempts of the second',
    expects: ['alerts', 'delay'],
  },
  'shut-in-outage': {
    kind: 'outage',
    has: 'a network that is down when an alert is due, and a door that shuts before the network is up again',
    expects: ['reported', 'undelivered'],
  },
  reset: {
    kind: 'reset',
    has: 'a reset while a door is open: between its first open check and its alert, or while its alert is undelivered',
    expects: ['alerts', 'delay'],
  },
  'power-on': {
    kind: 'reset',
    has: 'a power loss that ends when a door has just been left open',
    expects: ['alerts', 'falseAlarms', 'delay'],
  },
  'reset-late-in-cooldown': {
    kind: 'reset',
    has: 'a reset in the last moments of alertCooldown, fewer than connectTime before its end, and a door that is open from its alert until then',
    expects: ['alerts', 'repeats'],
  },
  'reset-in-send': {
    kind: 'reset',
    has: 'a reset while the device sends an alert',
    expects: ['alerts', 'undelivered', 'delay'],
  },
  'left-open-late': {
    kind: 'long-timeline',
    has: 'a door that is left open until its alert, from just after the time given with the mistake',
    expects: ['alerts', 'delay'],
  },
  'open-across': {
    kind: 'long-timeline',
    has: 'a door that is open from the last check before the time given with the mistake until as many checks after it as decide an alert, but for less than alertCooldown',
    expects: ['alerts', 'delay'],
  },
  'open-after-wrap': {
    kind: 'long-timeline',
    has: 'a door that is left open until its alert on the first day, and again in the first hours after the time given with the mistake',
    expects: ['alerts'],
  },
  'open-weeks-apart': {
    kind: 'long-timeline',
    has: 'a door that is left open until its alert, stays shut until 26 days after alertCooldown is over, and is then left open again until its alert',
    expects: ['alerts'],
  },
} as const satisfies Readonly<Record<string, Scene>>;

export type SceneName = keyof typeof scenes;
