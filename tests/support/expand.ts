// A trace with its folded wakes written out again, in the oracle's words.
import type { Trace } from '../../src/sim/index.js';
import type { OracleWake } from './oracle.js';

export function expandWakes(trace: Trace): OracleWake[] {
  return trace.wakes.flatMap((wake) =>
    Array.from({ length: wake.repeats + 1 }, (_, index) => {
      const byMs = index * wake.periodMs;
      const { check, sleep } = wake;
      return {
        cause: wake.cause,
        wakeMs: wake.wakeMs + byMs,
        checkMs: check === null ? null : check.atMs + byMs,
        contact: check === null ? null : check.contact,
        escalated: check?.escalated ?? false,
        decision: check === null ? null : check.decision,
        alertSend: wake.alertSend,
        heartbeatSend: wake.heartbeatSend,
        lowBatterySend: wake.lowBatterySend,
        lowBatteryWithAlert: wake.lowBatteryWithAlert === true,
        sleep: sleep === null ? null : { ...sleep, fromMs: sleep.fromMs + byMs },
        holds: wake.holds,
      };
    }),
  );
}
