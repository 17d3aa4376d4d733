// States of a watch as cards one under the other, each with its steps as rows. A step to another state leaves its row
// to the right, joins the lane of that state and comes back into its card: lines meet, but words never lie on them.

import type { VNode } from 'preact';
import { greatestOf, leastOf } from '../../base/index.js';
import type { OutlineKind, OutlineState } from '../../emit/index.js';
import { At, type Block, Shape, Words } from '../drawing.js';
import { px } from '../numbers.js';
import { cutText, textWidth } from '../text.js';
import type { Theme } from '../theme.js';

const rowPx = 24;
const headPx = 34;
const cardGapPx = 18;
const lanePx = 20;
const rowFont = { sizePx: 12 };
const titleFont = { sizePx: 15, bold: true };

interface PlacedCard {
  readonly state: OutlineState;
  readonly y: number;
  readonly heightPx: number;
}

function rowY(card: PlacedCard, row: number): number {
  return card.y + headPx + row * rowPx + rowPx / 2;
}

/** Draws the cards in a width, the lanes at their right. */
export function stateCards(states: readonly OutlineState[], widthPx: number): Block {
  let y = 0;
  const cards = states.map((state): PlacedCard => {
    const heightPx = headPx + state.steps.length * rowPx + 8;
    const card = { state, y, heightPx };
    y += heightPx + cardGapPx;
    return card;
  });
  const titles = new Map(states.map(({ kind, title }) => [kind, title]));
  const lanes = cards.filter(({ state }) => entriesOf(cards, state.kind).length > 0);
  const cardPx = widthPx - (lanes.length + 1) * lanePx;
  const whenWidths = states.flatMap(({ steps }) =>
    steps.map(({ when }) => textWidth(when, rowFont) + 22),
  );
  const whenPx = Math.min(cardPx * 0.42, greatestOf(whenWidths));
  return {
    height: y - cardGapPx,
    node: (
      <g>
        {lanes.map((card, lane) => (
          <Lane card={card} cards={cards} cardPx={cardPx} x={cardPx + (lane + 1) * lanePx} />
        ))}
        {cards.map((card) => (
          <Card card={card} widthPx={cardPx} whenPx={whenPx} titles={titles} />
        ))}
      </g>
    ),
  };
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

function Card({
  card,
  widthPx,
  whenPx,
  titles,
}: {
  readonly card: PlacedCard;
  readonly widthPx: number;
  /** Room for what was found, the same in all cards. */
  readonly whenPx: number;
  readonly titles: ReadonlyMap<OutlineKind, string>;
}): VNode {
  const { state, y, heightPx } = card;
  const titlePx = textWidth(state.title, titleFont);
  const notePx = widthPx - titlePx - 44;
  return (
    <At y={y}>
      <rect class="dw-panel" width={px(widthPx)} height={px(heightPx)} rx={6} />
      <rect class={`dw-at-${state.kind}`} width={5} height={px(heightPx)} rx={2} />
      <Words x={18} y={22} size={titleFont.sizePx} class="dw-bold">
        {state.title}
      </Words>
      <Words x={titlePx + 30} y={22} size={rowFont.sizePx} class="dw-soft">
        {cutText(state.note, notePx, rowFont)}
      </Words>
      {state.steps.map(({ when, then, to }, row) => {
        const base = headPx + row * rowPx + 16;
        const where = to === state.kind ? '↺ stays' : `→ ${titles.get(to) ?? to}`;
        const thenPx = widthPx - whenPx - textWidth(where, { ...rowFont, bold: true }) - 48;
        return (
          <g>
            <Shape class="dw-rule" d={`M18 ${headPx + row * rowPx}.5H${px(widthPx - 12)}`} />
            <Words x={18} y={base} size={rowFont.sizePx}>
              {cutText(when, whenPx - 12, rowFont)}
            </Words>
            <Words x={18 + whenPx} y={base} size={rowFont.sizePx}>
              {cutText(then, thenPx, rowFont)}
            </Words>
            <Words x={widthPx - 12} y={base} size={rowFont.sizePx} anchor="end" class="dw-bold">
              {where}
            </Words>
          </g>
        );
      })}
    </At>
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
