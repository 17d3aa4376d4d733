// The bar of lengths of the planner, with the words and borders of every other picture: never, maybe, always, and a flag at
// the limit that counts as left open. It is as wide as its place, so that nothing has to be measured while a hand moves.
import type { VNode } from 'preact';
import { durationText, roundedDurationText } from '../../base/index.js';
import type { LengthBar } from '../../wording/index.js';

interface Zone {
  readonly name: string;
  readonly fromMs: number;
  readonly toMs: number;
}

/** Narrower than this share of the bar, a zone has no room for its name. */
const leastForName = 0.12;

export function Ruler(props: {
  readonly bar: LengthBar;
  /** The bar before the last change: its borders stay as ghost lines. */
  readonly before: LengthBar | null;
}): VNode {
  const { bar, before } = props;
  const { leaveOpenMs, endMs, isMet, sentence, caption } = bar;
  const share = (ms: number): number => Math.min(1, ms / endMs);
  const percent = (ms: number): string => `${(100 * share(ms)).toFixed(2)}%`;
  const isRight = share(leaveOpenMs) > 0.6;
  return (
    <div class="lengths">
      <p class={isMet === false ? 'sentence bad' : 'sentence'}>{sentence}</p>
      <svg class="dw ruler" height={46} role="img" aria-label={`${caption} ${spoken(bar)}`}>
        {zonesOf(bar).map(({ name, fromMs, toMs }) => (
          <>
            <rect
              class={`dw-bar-${name}`}
              x={percent(fromMs)}
              width={percent(toMs - fromMs)}
              y={16}
              height={15}
            />
            {share(toMs - fromMs) < leastForName ? null : (
              <text
                class={name === 'always' ? 'dw-bold dw-on-badge' : 'dw-bold'}
                x={percent(nameMs({ name, fromMs, toMs }, bar))}
                y={27}
                text-anchor="middle"
              >
                {name}
              </text>
            )}
          </>
        ))}
        {ghostsOf(bar, before).map((ms) => (
          <rect class="ghost" x={percent(ms)} width={1.5} y={12} height={23} />
        ))}
        <BorderWords bar={bar} />
        <rect class="mark" x={percent(leaveOpenMs)} width={2} y={2} height={31} />
        <text
          class={isMet === false ? 'dw-bold dw-t-missed' : 'dw-bold'}
          x={percent(leaveOpenMs)}
          dx={isRight ? -6 : 8}
          y={11}
          text-anchor={isRight ? 'end' : 'start'}
        >
          left open from {durationText(leaveOpenMs)}
        </text>
      </svg>
    </div>
  );
}

/** The borders in minutes, below the bar. */
function BorderWords({ bar: { quietMs, sureMs, endMs } }: { readonly bar: LengthBar }): VNode {
  const percent = (ms: number): string => `${((100 * ms) / endMs).toFixed(2)}%`;
  const isAtEnd = sureMs !== null && sureMs / endMs > 0.85;
  return (
    <>
      {quietMs === null || quietMs === 0 ? null : (
        <text class="dw-soft" x={percent(quietMs)} y={43} text-anchor="end">
          {roundedDurationText(quietMs, 'at least')}
        </text>
      )}
      {sureMs === null ? null : (
        <text
          class="dw-soft"
          x={percent(sureMs)}
          dx={isAtEnd ? 0 : 2}
          y={43}
          text-anchor={isAtEnd ? 'end' : 'start'}
        >
          {roundedDurationText(sureMs, 'at most')}
        </text>
      )}
    </>
  );
}

/** Borders of before that have moved, and still lie on the bar. */
function ghostsOf(bar: LengthBar, before: LengthBar | null): readonly number[] {
  if (before === null) return [];
  const pairs = [
    [before.quietMs, bar.quietMs],
    [before.sureMs, bar.sureMs],
  ] as const;
  return pairs.flatMap(([was, is]) =>
    was === null || was === 0 || was === is || was > bar.endMs ? [] : [was],
  );
}

/** From left to right, without gaps. */
function zonesOf({ quietMs, sureMs, endMs }: LengthBar): readonly Zone[] {
  const quiet = quietMs ?? endMs;
  const sure = Math.max(quiet, sureMs ?? endMs);
  const zones = [
    { name: 'never', fromMs: 0, toMs: quiet },
    { name: 'maybe', fromMs: quiet, toMs: sure },
    { name: 'always', fromMs: sure, toMs: endMs },
  ];
  return zones.filter(({ fromMs, toMs }) => toMs > fromMs);
}

/** The middle of a zone, or of its larger part beside a flag that would strike its name. */
function nameMs({ fromMs, toMs }: Zone, { leaveOpenMs, endMs }: LengthBar): number {
  const middle = (fromMs + toMs) / 2;
  if (Math.abs(leaveOpenMs - middle) > 0.04 * endMs) return middle;
  return leaveOpenMs - fromMs > toMs - leaveOpenMs
    ? (fromMs + leaveOpenMs) / 2
    : (leaveOpenMs + toMs) / 2;
}

function spoken({ quietMs, sureMs, leaveOpenMs }: LengthBar): string {
  const never = quietMs === null ? 'never' : `never up to ${durationText(quietMs)}`;
  const always =
    sureMs === null ? 'no length is always reported' : `always from ${durationText(sureMs)}`;
  return `${never}, ${always}; a door counts as left open from ${durationText(leaveOpenMs)}.`;
}
