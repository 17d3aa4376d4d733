// A naive judge: every opening against every alert, with the two tables of outcomes and kinds read row by row. It shares no
// code with src/verdict.
import type { Spans } from '../../src/world/index.js';

interface OracleWish {
  readonly leaveOpenAfterMs: number;
  readonly reportWithinMs: number | null;
}

interface OracleAlert {
  readonly decidedMs: number;
  readonly deliveredMs: number | null;
}

/** The outcome of each opening, the kind of each alert, and how many leave-opens there are. */
export function judgeNaively(
  openings: Spans,
  trace: { readonly lengthMs: number; readonly alerts: readonly OracleAlert[] },
  wish: OracleWish,
): { readonly outcomes: string[]; readonly kinds: string[]; readonly leaveOpens: number } {
  const endMs = trace.lengthMs;
  const doors = Array.from(openings.fromMs, (fromMs, index) => {
    const shutMs = openings.toMs[index] ?? Number.POSITIVE_INFINITY;
    const isOpenAtEnd = shutMs > endMs;
    const untilMs = isOpenAtEnd ? endMs : shutMs;
    const isLong = untilMs - fromMs >= wish.leaveOpenAfterMs;
    const own = trace.alerts.filter(({ decidedMs }) => decidedMs >= fromMs && decidedMs < shutMs);
    return { fromMs, isOpenAtEnd, isLong, own };
  });
  const outcomes = doors.map(({ fromMs, isOpenAtEnd, isLong, own }) => {
    if (!isLong) return isOpenAtEnd ? 'undecided' : 'brief';
    const deadlineMs = wish.reportWithinMs === null ? null : fromMs + wish.reportWithinMs;
    const deliveries = own.flatMap(({ deliveredMs }) =>
      deliveredMs === null ? [] : [deliveredMs],
    );
    if (
      deadlineMs === null ? deliveries.length > 0 : deliveries.some((atMs) => atMs <= deadlineMs)
    ) {
      return 'reported';
    }
    if (deliveries.length > 0) return 'late';
    const isPast = deadlineMs !== null && endMs > deadlineMs;
    return isOpenAtEnd && !isPast ? 'undecided' : 'missed';
  });
  const kinds = trace.alerts.map((alert) => {
    const door = doors.find(({ own }) => own.includes(alert));
    if (door === undefined) return 'false';
    if (door.own[0] !== alert) return 'repeat';
    if (!door.isLong) return door.isOpenAtEnd ? 'early' : 'false';
    return alert.decidedMs - door.fromMs < wish.leaveOpenAfterMs ? 'early' : 'true';
  });
  return { outcomes, kinds, leaveOpens: doors.filter(({ isLong }) => isLong).length };
}
