// What `estimate --json` and `merge --json` print.

import { falseAlarmsEach } from '../../wording/index.js';
import type { LogAtEveryPhase } from '../inputs/log-at-every-phase.js';
import { jsonText } from '../layout/json-text.js';
import type { EstimateView } from './view.js';

const estimateSchema = 'dozewatch/estimate/1';

export function estimateJson({ head, log: judged, estimate, stoppedBy }: EstimateView): string {
  const { rates, shares, delays, ...rest } = estimate;
  const log = judged === 'too-long' || judged === null ? null : withoutWords(judged);
  // What to run next is for people.
  const asked = { ...head, next: undefined, everyPhase: undefined };
  const falseAlarmsPerBriefOpening = falseAlarmsEach({
    openings: estimate.openingsPerYear,
    leaveOpens: estimate.leaveOpensPerYear,
    falseAlarms: rates.falseAlarms.perYear,
  });
  const found = { log, stoppedBy, ...rest, falseAlarmsPerBriefOpening, rates, shares, delays };
  const whole = { schema: estimateSchema, ...asked, ...found };
  return jsonText(whole);
}

function withoutWords({ over: _, ...log }: LogAtEveryPhase): object {
  return log;
}
