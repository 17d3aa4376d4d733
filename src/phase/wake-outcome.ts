// What a wake of a piece did that is judged.
import { noAlert, type Slope } from './piece.js';

/** What a wake did that is judged; instants are those of the first phase. */
export interface WakeOutcome {
  /** The opening of an alert that was decided, `doorShut`, or `noAlert`. */
  decided: number;
  /** The opening in doubt in whose range it was decided, and the stretch of it, or −1; and whether the log has no state there. */
  decidedIn: number;
  decidedStretch: number;
  isDecidedUnseen: boolean;
  /** The opening of an alert that was delivered, and when. */
  delivered: number;
  deliveredMs: number;
  deliveredSlope: Slope;
  /** The opening in doubt in whose range that alert was decided, and the stretch of it; or −1. */
  deliveredIn: number;
  deliveredStretch: number;
  /** The opening of an alert that the end of the timeline cut off while it was being sent, or `noAlert`. */
  cutOff: number;
}

export function newOutcome(): WakeOutcome {
  return {
    decided: noAlert,
    decidedIn: -1,
    decidedStretch: -1,
    isDecidedUnseen: false,
    delivered: noAlert,
    deliveredMs: 0,
    deliveredSlope: 1,
    deliveredIn: -1,
    deliveredStretch: -1,
    cutOff: noAlert,
  };
}
