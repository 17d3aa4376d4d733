// The close-ups: two in a row where they are short, each with its number, its verdict and its reason.
import type { VNode } from 'preact';
import { greatestOf, roundedDurationText } from '../../base/index.js';
import { stampText } from '../calendar.js';
import { type CloseUp, type Rank, rankOf, ranks, type Subject } from '../close-ups.js';
import { At, type Block, Shape, Words } from '../drawing.js';
import type { StripFacts } from '../facts/strip-facts.js';
import { counted, px } from '../numbers.js';
import type { Scene } from '../scene.js';
import type { Lanes } from '../strip/lanes.js';
import { Strip } from '../strip/strip.js';
import { Tag, tagPx } from '../tag.js';
import { cutText, printable, textWidth, wrapText } from '../text.js';
import { reportWords } from '../words.js';

/** A close-up with all there is to draw of it. */
export interface CardContent {
  readonly closeUp: CloseUp;
  readonly facts: StripFacts;
}

const columnGapPx = 30;
const headPx = 20;
const linePx = 15;
const cardGapPx = 18;

const rankWords: Readonly<Record<Rank, string>> = {
  missed: 'Missed',
  false: 'False alarm',
  worst: 'Reported, the slowest',
  late: 'Reported late',
  undecided: 'Undecided',
  unknown: 'Unknown',
  early: 'Early alert',
  reported: 'Reported',
};

export interface CardRow {
  readonly contents: readonly CardContent[];
  readonly cardPx: number;
}

/** Two short close-ups share a row; a long one, or one left over, has it alone. */
export function cardRowsOf(
  closeUps: readonly CloseUp[],
  widthPx: number,
): { readonly closeUps: readonly CloseUp[]; readonly cardPx: number }[] {
  const half = (widthPx - columnGapPx) / 2;
  const rows: { closeUps: CloseUp[]; cardPx: number }[] = [];
  for (const closeUp of closeUps) {
    const last = rows.at(-1);
    const [neighbour] = last?.closeUps ?? [];
    const mayShare = widthPx >= 900 && !closeUp.wide;
    if (last?.closeUps.length === 1 && neighbour?.wide === false && mayShare) {
      last.closeUps.push(closeUp);
      last.cardPx = half;
    } else {
      rows.push({ closeUps: [closeUp], cardPx: widthPx });
    }
  }
  return rows;
}

/** The rows of close-ups, one under the other. */
export function closeUpCards(scene: Scene, rows: readonly CardRow[], lanes: Lanes): Block {
  let y = headPx / 2;
  const nodes = rows.map(({ contents, cardPx }) => {
    const reasons = contents.map(({ closeUp }) => reasonLines(scene, closeUp, cardPx));
    const lines = greatestOf(reasons.map((reason) => reason.length));
    const stripY = headPx + lines * linePx + 4;
    const top = y;
    y += stripY + lanes.height + cardGapPx;
    return (
      <At y={top}>
        {contents.map((content, index) => (
          <At x={index * (cardPx + columnGapPx)} y={0}>
            <Shape class="dw-rule" d={`M0 -9.5H${px(cardPx)}`} />
            <Text scene={scene} closeUp={content.closeUp} widthPx={cardPx} />
            <At y={stripY}>
              <Strip
                scene={scene}
                facts={content.facts}
                lanes={lanes}
                widthPx={cardPx}
                closeUp={content.closeUp}
                numbered={[]}
              />
            </At>
          </At>
        ))}
      </At>
    );
  });
  return { height: y - cardGapPx, node: <g>{nodes}</g> };
}

/** The words of the close-ups alone, where the strip of the whole timeline shows as much already. */
export function closeUpTexts(scene: Scene, closeUps: readonly CloseUp[], widthPx: number): Block {
  let y = 0;
  const nodes = closeUps.map((closeUp) => {
    const top = y;
    y += headPx + reasonLines(scene, closeUp, widthPx).length * linePx + 10;
    return (
      <At y={top}>
        <Text scene={scene} closeUp={closeUp} widthPx={widthPx} />
      </At>
    );
  });
  return { height: y - 10, node: <g>{nodes}</g> };
}

function reasonLines(scene: Scene, closeUp: CloseUp, widthPx: number): string[] {
  const reason = reasonOf(scene, closeUp);
  return reason === '' ? [] : wrapText(reason, widthPx, { font: { sizePx: 11 }, mostLines: 3 });
}

interface TextProps {
  readonly scene: Scene;
  readonly closeUp: CloseUp;
  readonly widthPx: number;
}

function Text(props: TextProps): VNode {
  const { scene, closeUp, widthPx } = props;
  return (
    <g>
      <Head {...props} />
      {reasonLines(scene, closeUp, widthPx).map((line, nth) => (
        <Words x={0} y={headPx + 10 + nth * linePx} class="dw-soft">
          {line}
        </Words>
      ))}
    </g>
  );
}

/** The reason of the verdict where one is known, and the note of the opening. */
function reasonOf({ sentences, timeline }: Scene, { opening, alerts }: CloseUp): string {
  const found = [
    ...(opening === null ? [] : [sentences.get(`opening ${opening}`)]),
    ...alerts.map((index) => sentences.get(`alert ${index}`)),
  ].find((sentence) => sentence !== undefined);
  const sentence = printable(found ?? '');
  const reason = sentence === '' ? '' : `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}.`;
  const note = opening === null ? undefined : timeline.notes.get(opening);
  return [note === undefined ? '' : `“${printable(note)}”`, reason]
    .filter((part) => part !== '')
    .join(' ');
}

function Head({ scene, closeUp, widthPx }: TextProps): VNode {
  const rank = rankOf(closeUp);
  const late =
    rank === 'worst' &&
    closeUp.opening !== null &&
    scene.verdict.openings.at(closeUp.opening).outcome === 'late';
  const verdict = late ? 'Reported late, the slowest' : rankWords[rank];
  const indent = tagPx(closeUp.number) + 8;
  const from = indent + textWidth(verdict, { sizePx: 13, bold: true }) + 10;
  const facts = fitting(factWords(scene, closeUp), widthPx - from);
  return (
    <g>
      <Tag x={0} y={8} number={closeUp.number} />
      {/* One text, so that the facts follow the verdict whatever font a viewer has. */}
      <Words x={indent} y={12.5} size={13}>
        <tspan class={`dw-bold dw-t-${late ? 'late' : rank}`}>{verdict}</tspan>
        <tspan dx={10} class="dw-soft" style="font-size:12px">
          {facts}
        </tspan>
      </Words>
    </g>
  );
}

/** As many of the facts as fit: the last ones are the first to go. */
function fitting(facts: readonly string[], widthPx: number): string {
  const font = { sizePx: 12 };
  const most = facts.findLastIndex(
    (_, index) => textWidth(facts.slice(0, index + 1).join(' · '), font) <= widthPx,
  );
  return cutText(facts.slice(0, Math.max(0, most) + 1).join(' · '), widthPx, font);
}

function factWords({ calendar, verdict }: Scene, { opening, alerts }: CloseUp): string[] {
  if (opening === null) {
    const alert = verdict.alerts[alerts[0] ?? 0];
    return [stampText(calendar, alert?.decidedMs ?? 0), 'the door was not open'];
  }
  const { fromMs, durationMs, delayMs, toMs, outcome } = verdict.openings.at(opening);
  const open = `open ${toMs === null ? 'at least ' : ''}${roundedDurationText(durationMs, 'at least')}`;
  const reported =
    delayMs === null
      ? []
      : [`${reportWords(outcome)} after ${roundedDurationText(delayMs, 'at most')}`];
  return [stampText(calendar, fromMs), open, ...reported];
}

/** What is not shown close up, counted in words; empty when everything is. */
export function othersWords(others: readonly Subject[]): string {
  if (others.length === 0) return '';
  const names: Readonly<Record<Rank, readonly [string, string]>> = {
    missed: ['missed leave-open', 'missed leave-opens'],
    false: ['false alarm', 'false alarms'],
    worst: ['slowest report', 'slowest reports'],
    late: ['late report', 'late reports'],
    undecided: ['undecided leave-open', 'undecided leave-opens'],
    unknown: ['unknown opening', 'unknown openings'],
    early: ['early alert', 'early alerts'],
    reported: ['reported leave-open', 'reported leave-opens'],
  };
  const counts = new Map<Rank, number>();
  for (const subject of others) {
    counts.set(rankOf(subject), (counts.get(rankOf(subject)) ?? 0) + 1);
  }
  const parts = ranks.flatMap((rank) => {
    const count = counts.get(rank);
    if (count === undefined) return [];
    return [
      rank === 'worst' && count === 1 ? 'the slowest report' : counted(count, ...names[rank]),
    ];
  });
  return `Not shown close up: ${parts.join(', ')}.`;
}
