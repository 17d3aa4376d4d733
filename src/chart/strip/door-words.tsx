// Words over the door: the worst detection latency as a dimension, and what must leap to the eye.
import type { VNode } from 'preact';
import { roughDurationText, roundedDurationText } from '../../base/index.js';
import type { CloseUp } from '../close-ups.js';
import { Bar, type TimeScale, Words } from '../drawing.js';
import type { SeenOpening, StripFacts } from '../facts/strip-facts.js';
import { endOf, type Scene } from '../scene.js';
import { Tag, tagPx } from '../tag.js';
import { textWidth } from '../text.js';
import { type WordRow, wordRow } from '../word-row.js';
import { openingTitle } from '../words.js';
import { badMarks } from './bad-marks.js';
import { Dimension, type DimensionProps, dimensionRoom } from './dimension.js';
import type { Lanes } from './lanes.js';

interface Props {
  readonly scene: Scene;
  readonly facts: StripFacts;
  readonly x: TimeScale;
  readonly lanes: Lanes;
  /** Null for a strip of the whole timeline. */
  readonly closeUp: CloseUp | null;
  /** What has a close-up, or a line of words, of its own. */
  readonly numbered: readonly CloseUp[];
}

export function DoorWords(props: Props): VNode {
  const { facts, x, closeUp, numbered } = props;
  const row = wordRow(x(facts.fromMs), x(facts.toMs));
  const cut = closeUp !== null && closeUp.cutMs > 0 ? cutWords(props, closeUp, row) : null;
  const dimensions = facts.openings
    .map((opening) => dimensionOf(props, opening, row))
    .filter((dimension) => dimension !== null);
  return (
    <g>
      {dimensions.map((dimension) => (
        <Dimension {...dimension} />
      ))}
      {badMarks(props, row)}
      {numbered.map((subject) => tagOf(props, subject, row))}
      {cut}
    </g>
  );
}

/** The story goes on where the window ends. */
function cutWords({ facts, x, lanes }: Props, { cutMs }: CloseUp, row: WordRow): VNode {
  const words = `${roughDurationText(cutMs)} more ›`;
  const right = x(facts.toMs);
  const width = textWidth(words, { sizePx: 11 });
  row.block(right - width, right);
  // A dimension that reaches as far ends at its words: paper is behind them.
  return (
    <g>
      <Bar
        x={right - width - 3}
        y={lanes.words.y + 3}
        width={width + 3}
        height={13}
        class="dw-behind-words"
      />
      <Words x={right} y={lanes.words.y + 13} anchor="end" class="dw-soft">
        {words}
      </Words>
    </g>
  );
}

/** What is dimensioned: the worst latency anywhere, and the opening that a close-up is about. */
function dimensionOf(
  { scene, facts, x, lanes, closeUp }: Props,
  { index, judged }: SeenOpening,
  row: WordRow,
): DimensionProps | null {
  const worst = scene.worst?.opening === index;
  const { fromMs, delayMs, outcome } = judged;
  if (!worst && closeUp?.opening !== index) return null;
  if (fromMs < facts.fromMs || (delayMs === null && outcome !== 'missed')) return null;
  const toMs = delayMs === null ? endOf(judged) : fromMs + delayMs;
  if (toMs > facts.toMs) return null;
  // As the words below it: latencies up, openings down.
  const long = roundedDurationText(toMs - fromMs, delayMs === null ? 'at least' : 'at most');
  const dimension: DimensionProps = {
    x1: x(fromMs),
    x2: x(toMs),
    y: lanes.words.y + 9,
    footY: lanes.door.y + lanes.door.height,
    words: delayMs === null ? `missed: open ${long}` : `${worst ? 'worst latency ' : ''}${long}`,
    title:
      delayMs === null
        ? openingTitle(scene, index)
        : `${worst ? 'Worst detection latency' : 'Detection latency'}: ${roundedDurationText(delayMs, 'at most')}`,
    minX: x(facts.fromMs),
    maxX: x(facts.toMs),
    strong: worst || outcome === 'missed',
    class: outcome === 'missed' ? 'dw-t-missed' : outcome === 'late' ? 'dw-t-late' : '',
  };
  row.block(...dimensionRoom(dimension));
  return dimension;
}

/** The number stands before what it numbers, or where else there is room. */
function tagOf({ facts, x, lanes }: Props, subject: CloseUp, row: WordRow): VNode | null {
  const { startMs, number } = subject;
  if (startMs < facts.fromMs || startMs >= facts.toMs) return null;
  const width = tagPx(number);
  const start = x(startMs);
  const at = row.place([start - width - 4, start, start + 18, start - width - 20], width);
  return at === null ? null : <Tag x={at} y={lanes.words.y + 9} number={number} />;
}
