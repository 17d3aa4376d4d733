// Why an alert was false, in one sentence.
import { durationText, itemAt } from '../../base/index.js';
import { spanAt } from '../../world/index.js';
import type { JudgedAlert } from '../judgement.js';
import { checksIn, type Evidence, type SeenCheck, spanBefore } from './evidence.js';
import { countText } from './words.js';

/** The sentence for a false alert, and the checks that it rests on. */
export function explainAlert(
  evidence: Evidence,
  index: number,
): { readonly sentence: string; readonly checks: readonly SeenCheck[] } {
  const alert = itemAt(evidence.verdict.alerts, index);
  const checks = countedChecks(evidence, alert);
  return { sentence: falseSentence(evidence, alert, checks), checks };
}

/** The open checks that the alert was decided on: those still in memory, the deciding one last. */
function countedChecks({ experiment, trace }: Evidence, alert: JudgedAlert): readonly SeenCheck[] {
  const [fromMs, decidedMs] = spanBefore(experiment, alert.decidedMs);
  const earlier = checksIn(trace, fromMs, decidedMs + 1);
  const deciding = itemAt(earlier, earlier.length - 1);
  const remembered = 32 - Math.clz32(deciding.wake.memoryAfter.recentChecks);
  return earlier.slice(-Math.max(remembered, 1)).filter(({ check }) => check.contact === 'open');
}

function falseSentence(
  { experiment, verdict }: Evidence,
  alert: JudgedAlert,
  checks: readonly SeenCheck[],
): string {
  const { openings } = experiment.world;
  const shut = checks.filter(({ atMs }) => spanAt(openings, atMs) < 0);
  if (shut.length === checks.length) {
    return `the contact read open at ${countText(checks.length, 'check')} while the door was shut`;
  }
  const hit = [...new Set(checks.map(({ atMs }) => spanAt(openings, atMs)))].filter(
    (at) => at >= 0,
  );
  const lengths = hit.map((at) => durationText(verdict.openings.at(at).durationMs));
  const where =
    lengths.length === 1
      ? `one brief opening of ${lengths.join('')}`
      : `${String(lengths.length)} separate openings (${lengths.slice(0, 5).join(', ')}${lengths.length > 5 ? ', …' : ''})`;
  const ghost =
    shut.length > 0 ? `; ${countText(shut.length, 'more')} read open with the door shut` : '';
  const inside = checks.length - shut.length;
  const tail = alert.opening === null ? '; it was decided with the door shut' : '';
  return `${countText(inside, 'open check')} fell into ${where}${ghost}${tail}`;
}
