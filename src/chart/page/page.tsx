// The whole page: heading, overview or strip, close-ups, legend, one under the other.
import type { VNode } from 'preact';
import type { LengthBar } from '../../wording/index.js';
import { chooseCloseUps, longestStripMs } from '../close-ups.js';
import type { Block } from '../drawing.js';
import { kindsOf, type StripFacts, stripFacts } from '../facts/strip-facts.js';
import type { Window } from '../facts/window.js';
import type { Kind } from '../kinds.js';
import { overview } from '../overview/overview.js';
import type { Scene } from '../scene.js';
import { lanesFor } from '../strip/lanes.js';
import { laneNamesPx, Strip } from '../strip/strip.js';
import { cutText, fileNameOf } from '../text.js';
import type { Theme } from '../theme.js';
import { verdictSentence } from '../words.js';
import { cardRowsOf, closeUpCards, closeUpTexts, othersWords } from './close-up-cards.js';
import type { Note } from './head.js';
import { heading, placeWords } from './heading.js';
import { legend } from './legend.js';
import { lengthBarBlock } from './length-bar.js';
import { innerPx, lineOf, Sheet } from './sheet.js';

export interface PageSettings {
  readonly title: string;
  readonly theme: Theme;
  readonly widthPx: number;
  readonly mostCloseUps: number;
  readonly note: Note | null;
  readonly bar: LengthBar | null;
  readonly watchName: string | null;
}

export function Page({
  scene,
  settings,
}: {
  readonly scene: Scene;
  readonly settings: PageSettings;
}): VNode {
  const { title, theme, widthPx } = settings;
  return (
    <Sheet
      title={title}
      description={`${placeWords(scene)}. ${verdictSentence(scene)}${settings.note === null ? '' : ` ${settings.note.words}`}`}
      theme={theme}
      widthPx={widthPx}
      blocks={blocksOf(scene, settings, innerPx(widthPx))}
    />
  );
}

/** With no more checks than this, that strip shows all that close-ups could. */
const checksInDetail = 66;

function blocksOf(
  scene: Scene,
  { title, mostCloseUps, note, bar, watchName }: PageSettings,
  fullPx: number,
): Block[] {
  const { closeUps, others } = chooseCloseUps(scene, mostCloseUps);
  const whole = { fromMs: 0, toMs: Math.max(1, scene.lengthMs) };
  const factsFor = (window: Window, stripPx: number): StripFacts =>
    stripFacts(scene, window, (0.5 * (window.toMs - window.fromMs)) / (stripPx - laneNamesPx));
  const strip = scene.lengthMs <= longestStripMs ? factsFor(whole, fullPx) : null;
  const detailed = strip !== null && scene.trace.tally.checks <= checksInDetail;
  const rows = detailed
    ? []
    : cardRowsOf(closeUps, fullPx).map(({ cardPx, closeUps: inRow }) => ({
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
  const blocks: Block[] = [heading(scene, { title, note, watchName }, fullPx)];
  if (bar !== null) blocks.push(lengthBarBlock(bar, fullPx));
  if (strip === null) {
    const rowsBlock = overview(scene, fullPx, { closeUps });
    for (const kind of rowsBlock.kinds) kinds.add(kind);
    blocks.push(rowsBlock);
  } else {
    const node = (
      <Strip
        scene={scene}
        facts={strip}
        lanes={lanes}
        widthPx={fullPx}
        closeUp={null}
        numbered={closeUps}
      />
    );
    blocks.push({ height: lanes.height, node });
  }
  if (rows.length > 0) blocks.push(closeUpCards(scene, rows, lanes));
  if (detailed && closeUps.length > 0) blocks.push(closeUpTexts(scene, closeUps, fullPx));
  const rest = othersWords(others);
  if (rest !== '') blocks.push(lineOf(rest));
  if (scene.verdict.openings.count === 0) {
    blocks.push(lineOf('The door stayed shut from the first to the last instant.'));
  }
  if (kinds.size > 0) blocks.push(legend(kinds, fullPx));
  return [...blocks, footer(scene, fullPx)];
}

/** Where the timeline came from. */
function footer({ timeline }: Scene, widthPx: number): Block {
  return lineOf(cutText(`dozewatch · ${fileNameOf(timeline.file)}`, widthPx, { sizePx: 11 }));
}
