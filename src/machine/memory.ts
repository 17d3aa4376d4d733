// What survives sleep and reset, and is lost with power. Nothing else does.

/** The logic's retained memory. Time stamps (last delivery, last heartbeat) are kept by the code that keeps the clock. */
export interface RetainedMemory {
  /**
   * The last `outOf` checks as bits, the newest lowest, 1 for open. Leading zeros carry nothing, so the
   * number by itself is "the last checks from the first open one on": 0b101 is open, shut, open.
   */
  readonly recentChecks: number;
  /** Shut checks in a row, counted no further than the clear threshold. */
  readonly shutRun: number;
  /** An alert is decided and not yet delivered. */
  readonly alertPending: boolean;
  /** Attempts in a row that failed since the last fall-back to the check interval. */
  readonly failedAttempts: number;
  /** An alert was delivered and nothing has ended its cooldown; whether its time has run out is for the clock to say. */
  readonly coolingDown: boolean;
}

/** How many of the remembered checks read open. */
export function openChecks(memory: Pick<RetainedMemory, 'recentChecks'>): number {
  let count = 0;
  for (let bits = memory.recentChecks; bits !== 0; bits &= bits - 1) count += 1;
  return count;
}

/** Memory at power-on: the door last seen shut, no open check counted, no alert sent. */
export function initialMemory(clearThreshold: number): RetainedMemory {
  return {
    recentChecks: 0,
    shutRun: clearThreshold,
    alertPending: false,
    failedAttempts: 0,
    coolingDown: false,
  };
}

/** Rule of a check: remember it, and let a long enough shut run clear the open checks and the cooldown. */
export function rememberCheck(
  memory: RetainedMemory,
  readsOpen: boolean,
  rule: {
    readonly outOf: number;
    readonly clearThreshold: number;
    readonly cooldownEndsWhenShut: boolean;
  },
): RetainedMemory {
  const window = 2 ** rule.outOf - 1;
  const recentChecks = ((memory.recentChecks << 1) | (readsOpen ? 1 : 0)) & window;
  if (readsOpen) return { ...memory, recentChecks, shutRun: 0 };
  const shutRun = Math.min(memory.shutRun + 1, rule.clearThreshold);
  if (shutRun < rule.clearThreshold) return { ...memory, recentChecks, shutRun };
  const coolingDown = memory.coolingDown && !rule.cooldownEndsWhenShut;
  return { ...memory, recentChecks: 0, shutRun, coolingDown };
}
