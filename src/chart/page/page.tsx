// The whole page: heading, overview or strip, close-ups, legend, one under the other.
import type { VNode } from 'preact';
import { chooseCloseUps } from '../close-ups.js';
import { At, type Block, Words } from '../drawing.js';
import { kindsOf, type StripFacts, stripFacts } from '../facts/strip-facts.js';
import type { Window } from '../facts/window.js';
import type { Kind } from '../kinds.js';
import { px } from '../numbers.js';
import { overview } from '../overview/overview.js';
import { Patterns } from '../patterns.js';
import type { Scene } from '../scene.js';
import { lanesFor } from '../strip/lanes.js';
import { laneNamesPx, Strip } from '../strip/strip.js';
import { styleSheet } from '../style-sheet.js';
import { cutText, printable } from '../text.js';
import type { Theme } from '../theme.js';
import { verdictSentence } from '../words.js';
import { cardRowsOf, closeUpCards, closeUpTexts, othersWords } from './close-up-cards.js';
import { heading, placeWords } from './heading.js';
import { legend } from './legend.js';

export interface PageSettings {
  readonly title: string;
  readonly theme: Theme;
  readonly widthPx: number;
  readonly mostCloseUps: number;
}

const marginPx = 32;
const gapPx = 26;

export function Page({
  scene,
  settings,
}: {
  readonly scene: Scene;
  readonly settings: PageSettings;
}): VNode {
  const { title, theme, widthPx } = settings;
  let y = marginPx;
  const placed = blocksOf(scene, settings, widthPx - 2 * marginPx).map(({ height, node }) => {
    const top = y;
    y += height + gapPx;
    return (
      <At x={marginPx} y={top}>
        {node}
      </At>
    );
  });
  const heightPx = px(y - gapPx + marginPx * 0.75);
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      class="dw"
      width={widthPx}
      height={heightPx}
      viewBox={`0 0 ${widthPx} ${heightPx}`}
      role="img"
      aria-labelledby="dw-title dw-desc"
    >
      <title id="dw-title">{title}</title>
      <desc id="dw-desc">{`${placeWords(scene)}. ${verdictSentence(scene.verdict.summary)}`}</desc>
      <style>{styleSheet(theme)}</style>
      <Patterns theme={theme} />
      <rect class="dw-paper" width={widthPx} height={heightPx} />
      {placed}
    </svg>
  );
}

/** Up to this length a timeline is shown as one strip with all lanes. */
const longestStripMs = 26 * 3_600_000;
/** With no more checks than this, that strip shows all that close-ups could. */
const checksInDetail = 66;

function blocksOf(scene: Scene, { title, mostCloseUps }: PageSettings, innerPx: number): Block[] {
  const { closeUps, others } = chooseCloseUps(scene, mostCloseUps);
  const whole = { fromMs: 0, toMs: Math.max(1, scene.lengthMs) };
  const factsFor = (window: Window, stripPx: number): StripFacts =>
    stripFacts(scene, window, (0.5 * (window.toMs - window.fromMs)) / (stripPx - laneNamesPx));
  const strip = scene.lengthMs <= longestStripMs ? factsFor(whole, innerPx) : null;
  const detailed = strip !== null && scene.trace.tally.checks <= checksInDetail;
  const rows = detailed
    ? []
    : cardRowsOf(closeUps, innerPx).map(({ cardPx, closeUps: inRow }) => ({
        cardPx,
        contents: inRow.map((closeUp) => ({ closeUp, facts: factsFor(closeUp, cardPx) })),
      }));
  const strips = [
    ...(strip === null ? [] : [strip]),
    ...rows.flatMap(({ contents }) => contents.map(({ facts }) => facts)),
  ];
  const lanes = lanesFor(strips);
  const kinds = new Set<Kind>(strips.flatMap((facts) => [...kindsOf(facts)]));
  if (scene.worst !== null) kinds.add('worst');
  const blocks: Block[] = [heading(scene, title, innerPx)];
  if (strip === null) {
    const rowsBlock = overview(scene, innerPx, closeUps);
    for (const kind of rowsBlock.kinds) kinds.add(kind);
    blocks.push(rowsBlock);
  } else {
    const node = (
      <Strip
        scene={scene}
        facts={strip}
        lanes={lanes}
        widthPx={innerPx}
        closeUp={null}
        numbered={closeUps}
      />
    );
    blocks.push({ height: lanes.height, node });
  }
  if (rows.length > 0) blocks.push(closeUpCards(scene, rows, lanes));
  if (detailed && closeUps.length > 0) blocks.push(closeUpTexts(scene, closeUps, innerPx));
  const rest = othersWords(others);
  if (rest !== '') blocks.push(line(rest));
  if (scene.verdict.openings.count === 0) {
    blocks.push(line('The door stayed shut from the first to the last instant.'));
  }
  if (kinds.size > 0) blocks.push(legend(kinds, innerPx));
  return [...blocks, footer(scene, innerPx)];
}

function line(words: string): Block {
  return {
    height: 12,
    node: (
      <Words x={0} y={10} class="dw-soft">
        {words}
      </Words>
    ),
  };
}

/** Where the timeline came from. */
function footer({ timeline }: Scene, widthPx: number): Block {
  return line(cutText(`dozewatch · ${printable(timeline.file)}`, widthPx, { sizePx: 11 }));
}
