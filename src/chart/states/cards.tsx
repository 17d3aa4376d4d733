// States of a watch as cards one under the other, each with its steps as rows. A step to another state leaves its row
// to the right, joins the lane of that state and comes back into its card: lines meet, but words never lie on them.

import type { VNode } from 'preact';
import { greatestOf, leastOf } from '../../base/index.js';
import type { OutlineKind, OutlineState } from '../../emit/index.js';
import { At, type Block, Shape, Words } from '../drawing.js';
import { px } from '../numbers.js';
import { cutText, textWidth, wrapText } from '../text.js';
import type { Theme } from '../theme.js';

const rowPx = 24;
/** Of a row whose words stand in two lines, one for what was found and one for what it does. */
const stackedRowPx = 41;
/** A step leaves its card at the height of its first line. */
const exitPx = 12;
const headPx = 34;
const notePx = 16;
const cardGapPx = 18;
const lanePx = 20;
const rowFont = { sizePx: 12 };
const titleFont = { sizePx: 15, bold: true };

type Step = OutlineState['steps'][number];

interface PlacedCard {
  readonly state: OutlineState;
  readonly y: number;
  readonly heightPx: number;
  readonly headPx: number;
  readonly rowPx: number;
  /** Under the title; none: the note stands beside it. */
  readonly noteLines: readonly string[];
}

function rowY(card: PlacedCard, row: number): number {
  return card.y + card.headPx + row * card.rowPx + exitPx;
}

/** Draws the cards in a width, the lanes at their right. */
export function stateCards(states: readonly OutlineState[], widthPx: number): Block {
  const titles = new Map(states.map(({ kind, title }) => [kind, title]));
  const targets = states.filter(({ kind }) =>
    states.some((from) => from.kind !== kind && from.steps.some(({ to }) => to === kind)),
  );
  const cardPx = widthPx - (targets.length + 1) * lanePx;
  const whenWidths = states.flatMap(({ steps }) =>
    steps.map(({ when }) => textWidth(when, rowFont) + 22),
  );
  const whenPx = Math.min(cardPx * 0.42, greatestOf(whenWidths));
  const isStacked = !states.every((state) => fitsBeside(state, { cardPx, whenPx, titles }));
  let y = 0;
  const cards = states.map((state): PlacedCard => {
    const noteLines = isStacked
      ? wrapText(state.note, cardPx - 36, { font: rowFont, mostLines: 3 })
      : [];
    const head = headPx + noteLines.length * notePx;
    const row = isStacked ? stackedRowPx : rowPx;
    const heightPx = head + state.steps.length * row + 8;
    const card = { state, y, heightPx, headPx: head, rowPx: row, noteLines };
    y += heightPx + cardGapPx;
    return card;
  });
  const lanes = cards.filter(({ state }) => targets.includes(state));
  return {
    height: y - cardGapPx,
    node: (
      <g>
        {lanes.map((card, lane) => (
          <Lane card={card} cards={cards} cardPx={cardPx} x={cardPx + (lane + 1) * lanePx} />
        ))}
        {cards.map((card) => (
          <Card card={card} columns={{ cardPx, whenPx, titles }} />
        ))}
      </g>
    ),
  };
}

interface Columns {
  readonly cardPx: number;
  /** Room for what was found, the same in all cards. */
  readonly whenPx: number;
  readonly titles: ReadonlyMap<OutlineKind, string>;
}

/** Whether no words of a card have to be cut to stand in one line. */
function fitsBeside(state: OutlineState, columns: Columns): boolean {
  return state.steps.every(
    (step) =>
      textWidth(step.when, rowFont) <= columns.whenPx - 12 &&
      textWidth(step.then, rowFont) <= thenRoomPx(state, step, columns),
  );
}

function whereWords(state: OutlineState, { to }: Step, titles: Columns['titles']): string {
  return to === state.kind ? '↺ stays' : `→ ${titles.get(to) ?? to}`;
}

function thenRoomPx(state: OutlineState, step: Step, { cardPx, whenPx, titles }: Columns): number {
  const where = whereWords(state, step, titles);
  return cardPx - whenPx - textWidth(where, { ...rowFont, bold: true }) - 48;
}

/** The rows of other cards that lead to a state: where they leave. */
function entriesOf(cards: readonly PlacedCard[], kind: OutlineKind): readonly number[] {
  return cards.flatMap((card) =>
    card.state.kind === kind
      ? []
      : card.state.steps.flatMap(({ to }, row) => (to === kind ? [rowY(card, row)] : [])),
  );
}

function Lane({
  card,
  cards,
  cardPx,
  x,
}: {
  readonly card: PlacedCard;
  readonly cards: readonly PlacedCard[];
  readonly cardPx: number;
  readonly x: number;
}): VNode {
  const { kind } = card.state;
  const entries = entriesOf(cards, kind);
  const into = card.y + headPx / 2;
  const top = Math.min(into, leastOf(entries));
  const bottom = Math.max(into, greatestOf(entries));
  const branches = entries.map((entryY) => `M${px(cardPx)} ${px(entryY)}H${px(x)}`).join('');
  return (
    <g>
      <Shape
        class={`dw-flow dw-flow-${kind}`}
        d={`${branches}M${px(x)} ${px(top)}V${px(bottom)}M${px(x)} ${px(into)}H${px(cardPx + 6)}`}
      />
      {entries.map((entryY) => (
        <circle class={`dw-at-${kind}`} cx={px(x)} cy={px(entryY)} r={2.6} />
      ))}
      <Shape class={`dw-at-${kind}`} d={`M${px(cardPx + 1)} ${px(into)}l9 -4.5v9z`} />
    </g>
  );
}

function Card({ card, columns }: { readonly card: PlacedCard; readonly columns: Columns }): VNode {
  const { state, y, heightPx, noteLines } = card;
  const { cardPx } = columns;
  const titlePx = textWidth(state.title, titleFont);
  return (
    <At y={y}>
      <rect class="dw-panel" width={px(cardPx)} height={px(heightPx)} rx={6} />
      <rect class={`dw-at-${state.kind}`} width={5} height={px(heightPx)} rx={2} />
      <Words x={18} y={22} size={titleFont.sizePx} class="dw-bold">
        {state.title}
      </Words>
      {noteLines.length === 0 ? (
        <Words x={titlePx + 30} y={22} size={rowFont.sizePx} class="dw-soft">
          {cutText(state.note, cardPx - titlePx - 44, rowFont)}
        </Words>
      ) : (
        noteLines.map((line, index) => (
          <Words x={18} y={22 + (index + 1) * notePx} size={rowFont.sizePx} class="dw-soft">
            {line}
          </Words>
        ))
      )}
      {state.steps.map((step, row) => (
        <At y={card.headPx + row * card.rowPx}>
          <Shape class="dw-rule" d={`M18 .5H${px(cardPx - 12)}`} />
          <StepWords state={state} step={step} columns={columns} isStacked={noteLines.length > 0} />
        </At>
      ))}
    </At>
  );
}

function StepWords(props: {
  readonly state: OutlineState;
  readonly step: Step;
  readonly columns: Columns;
  readonly isStacked: boolean;
}): VNode {
  const { state, step, columns, isStacked } = props;
  const { cardPx, whenPx, titles } = columns;
  const where = whereWords(state, step, titles);
  const whenRoom = isStacked
    ? cardPx - textWidth(where, { ...rowFont, bold: true }) - 42
    : whenPx - 12;
  const then = isStacked
    ? { x: 18, y: 33, room: cardPx - 30, class: 'dw-soft' }
    : { x: 18 + whenPx, y: 16, room: thenRoomPx(state, step, columns), class: '' };
  return (
    <g>
      <Words x={18} y={16} size={rowFont.sizePx}>
        {cutText(step.when, whenRoom, rowFont)}
      </Words>
      <Words
        x={then.x}
        y={then.y}
        size={rowFont.sizePx}
        {...(then.class === '' ? {} : { class: then.class })}
      >
        {cutText(step.then, then.room, rowFont)}
      </Words>
      <Words x={cardPx - 12} y={16} size={rowFont.sizePx} anchor="end" class="dw-bold">
        {where}
      </Words>
    </g>
  );
}

/** The colours of lanes and cards, by the state that they lead to. */
export function flowStyle(theme: Theme): string {
  const colours: Readonly<Record<OutlineKind, string>> = {
    off: theme.power,
    watching: theme.early,
    counting: theme.known,
    unsent: theme.late,
    delivered: theme.reported,
    held: theme.falseAlarm,
  };
  return [
    '.dw-flow{fill:none;stroke-width:1.6;stroke-linejoin:round}',
    ...Object.entries(colours).flatMap(([kind, colour]) => [
      `.dw-flow-${kind}{stroke:${colour}}`,
      `.dw-at-${kind}{fill:${colour}}`,
    ]),
  ].join('\n');
}
