// The bar of lengths: openings that never raise an alert, those whose report depends on when they start, and those that
// are always reported, with a flag at the limit that counts as left open.
import type { VNode } from 'preact';
import { durationText } from '../../base/index.js';
import type { Plan } from '../plan.js';

interface Zone {
  readonly kind: string;
  readonly words: string;
  readonly fromMs: number;
  readonly toMs: number;
}

/** Narrower than this share of the rule, a zone has no room for its words. */
const leastForWords = 0.17;
const spare = 1.2;

export function Ruler({ plan }: { readonly plan: Plan }): VNode | null {
  const { bounds, watchFile } = plan;
  if (bounds === null) return null;
  const asked = watchFile.judge.leaveOpenAfterMs;
  // Endless where no single opening raises an alert.
  const quiet = Number.isFinite(bounds.neverAlarmedUpToMs) ? bounds.neverAlarmedUpToMs : null;
  const sure = bounds.alwaysReportedFromMs.atRest;
  const endMs = Math.max(asked, quiet ?? 0, sure ?? 0, bounds.worstDelayMs.atRest ?? 0) * spare;
  const share = (ms: number): number => Math.min(1, ms / endMs);
  const percent = (ms: number): string => `${(100 * share(ms)).toFixed(2)}%`;
  const zones = zonesOf({ quiet: quiet ?? endMs, sure: sure ?? endMs, endMs });
  const right = share(asked) > 0.6;
  return (
    <svg class="dw ruler" height={48} role="img" aria-label={spoken({ asked, quiet, sure })}>
      {zones.map(({ kind, words, fromMs, toMs }) => (
        <>
          <rect
            class={kind}
            x={percent(fromMs)}
            width={percent(toMs - fromMs)}
            y={18}
            height={12}
          />
          {share(toMs - fromMs) < leastForWords ? null : (
            <text class="dw-soft" x={percent((fromMs + toMs) / 2)} y={44} text-anchor="middle">
              {words}
            </text>
          )}
        </>
      ))}
      {[quiet, sure].map((ms) =>
        ms === null ? null : <rect class="tick" x={percent(ms)} width={1} y={15} height={18} />,
      )}
      <rect class="mark" x={percent(asked)} width={2} y={2} height={31} />
      <text
        class="dw-bold"
        x={percent(asked)}
        dx={right ? -6 : 8}
        y={11}
        text-anchor={right ? 'end' : 'start'}
      >
        left open from {durationText(asked)}
      </text>
    </svg>
  );
}

/** From left to right, without gaps. */
function zonesOf(at: {
  readonly quiet: number;
  readonly sure: number;
  readonly endMs: number;
}): readonly Zone[] {
  const { quiet, endMs } = at;
  const sure = Math.max(quiet, at.sure);
  const zones = [
    { kind: 'dw-bar-never', words: 'never an alert', fromMs: 0, toMs: quiet },
    { kind: 'dw-bar-maybe', words: 'maybe', fromMs: quiet, toMs: sure },
    { kind: 'dw-bar-always', words: 'always reported', fromMs: sure, toMs: endMs },
  ];
  return zones.filter(({ fromMs, toMs }) => toMs > fromMs);
}

function spoken(at: {
  readonly asked: number;
  readonly quiet: number | null;
  readonly sure: number | null;
}): string {
  const { asked, quiet, sure } = at;
  const first =
    quiet === null
      ? 'No single opening raises an alert'
      : `No single opening of up to ${durationText(quiet)} raises an alert`;
  const last =
    sure === null
      ? 'no length is always reported'
      : `every one from ${durationText(sure)} is reported`;
  return `${first}, ${last}; a door counts as left open from ${durationText(asked)}.`;
}
