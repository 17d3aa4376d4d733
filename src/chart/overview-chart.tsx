// The whole timeline at a glance as a picture for a page: a row a day, or for a short timeline one strip.
import type { Explanation } from '../verdict/index.js';
import { longestStripMs } from './close-ups.js';
import type { Block } from './drawing.js';
import { kindsOf, stripFacts } from './facts/strip-facts.js';
import type { Kind } from './kinds.js';
import { overview } from './overview/overview.js';
import { placeWords, titleWords } from './page/heading.js';
import { legend } from './page/legend.js';
import { documentText, Sheet, sheetWidthPx } from './page/sheet.js';
import { type ChartInput, type Scene, sceneOf } from './scene.js';
import { lanesFor } from './strip/lanes.js';
import { laneNamesPx, Strip } from './strip/strip.js';
import { themes } from './theme.js';
import { verdictSentence } from './words.js';

/** @returns a whole SVG document for a page, with the theme `page`. */
export function overviewChart(
  input: ChartInput,
  explanations: readonly Explanation[],
  wantedPx: number,
): string {
  const widthPx = sheetWidthPx(wantedPx, true);
  const scene = sceneOf(input, explanations);
  const { kinds, ...block } = overviewBlock(scene, widthPx);
  return documentText(
    <Sheet
      title={titleWords(scene, undefined)}
      description={`${placeWords(scene)}. ${verdictSentence(scene)}`}
      theme={themes.page}
      widthPx={widthPx}
      blocks={[block, legend(kinds, widthPx)]}
      bare
    />,
  );
}

function overviewBlock(
  scene: Scene,
  widthPx: number,
): Block & { readonly kinds: ReadonlySet<Kind> } {
  if (scene.lengthMs > longestStripMs) return overview(scene, widthPx);
  const whole = { fromMs: 0, toMs: Math.max(1, scene.lengthMs) };
  const facts = stripFacts(scene, whole, (0.5 * whole.toMs) / (widthPx - laneNamesPx));
  const lanes = lanesFor([facts]);
  const kinds = kindsOf(facts);
  if (scene.worst !== null) kinds.add('worst');
  const node = (
    <Strip
      scene={scene}
      facts={facts}
      lanes={lanes}
      widthPx={widthPx}
      closeUp={null}
      numbered={[]}
    />
  );
  return { height: lanes.height, node, kinds };
}
