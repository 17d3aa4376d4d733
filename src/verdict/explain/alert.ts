// Why an alert was decided, of the false ones above all, as claims.
import { invariant, itemAt } from '../../base/index.js';
import { firstAfter, spanAt } from '../../world/index.js';
import type { JudgedAlert } from '../judgement.js';
import type { Clause } from './clause.js';
import { type Evidence, instantsOf, lastChecksUpTo } from './evidence.js';

/** What an alert was decided on, and the open checks among that. */
export function explainAlert(
  evidence: Evidence,
  index: number,
): { readonly clauses: readonly Clause[]; readonly checksMs: readonly number[] } {
  const alert = itemAt(evidence.verdict.alerts, index);
  const checksMs = countedChecksMs(evidence, alert);
  return { clauses: falseReason(evidence, alert, checksMs), checksMs };
}

/** The open checks that the alert was decided on: those still in memory, the deciding one last. */
function countedChecksMs({ trace }: Evidence, { decidedMs }: JudgedAlert): readonly number[] {
  const deciding = trace.wakes.findLast(({ check }) => check?.atMs === decidedMs);
  invariant(deciding !== undefined, 'an alert is decided at a check', { decidedMs });
  const remembered = 32 - Math.clz32(deciding.memoryAfter.recentChecks);
  const last = lastChecksUpTo(trace, decidedMs, remembered);
  return instantsOf(
    last.filter(({ check }) => check.contact === 'open'),
    remembered,
  );
}

function falseReason(
  { experiment, verdict, asked }: Evidence,
  { opening, decidedMs }: JudgedAlert,
  checksMs: readonly number[],
): readonly Clause[] {
  const { openings, contact } = experiment.world;
  if (checksMs.length === 0) {
    const isOpen = (firstAfter(contact, decidedMs) & 1) === 1;
    return isOpen
      ? [ownRule(verdict, asked, spanAt(openings, decidedMs))]
      : [{ kind: 'noOpenCheck' }];
  }
  const truth = checksMs.map((atMs) => spanAt(openings, atMs));
  const inside = truth.filter((at) => at >= 0);
  const ghosts = truth.length - inside.length;
  if (inside.length === 0) return [{ kind: 'ghosts', checks: ghosts, all: true }];
  const hit = [...new Set(inside)].map((at) => {
    const ms = verdict.openings.at(at).durationMs;
    return { ms, brief: ms < asked.leaveOpenAfterMs };
  });
  const clauses: Clause[] = [{ kind: 'openChecks', checks: inside.length, openings: hit }];
  if (ghosts > 0) clauses.push({ kind: 'ghosts', checks: ghosts, all: false });
  if (opening === null) clauses.push({ kind: 'decidedShut' });
  return clauses;
}

function ownRule({ openings }: Evidence['verdict'], asked: Evidence['asked'], at: number): Clause {
  if (at < 0) return { kind: 'ownRule', opening: null };
  const ms = openings.at(at).durationMs;
  return { kind: 'ownRule', opening: { ms, brief: ms < asked.leaveOpenAfterMs } };
}
