// A replay as a picture in a file: SVG, or PNG where the name asks for it.
import { timelineChart } from '../../chart/index.js';
import { simulate } from '../../sim/index.js';
import { explain } from '../../verdict/index.js';
import type { Io } from '../host/io.js';
import type { LoadedWatch } from './load-watch.js';
import type { Replay } from './replay-one.js';
import { pictureFormat, writePicture } from './write-picture.js';

/** What the picture is to look like, as the options say it. */
export interface Look {
  readonly dark?: true | undefined;
  readonly closeUps?: number | undefined;
  readonly width?: number | undefined;
  readonly title?: string | undefined;
}

/** The most sentences of each kind that a picture may show. */
const mostSentences = 100;

/** @param file `-` for standard output, as SVG. @throws InputProblem when it cannot be written. */
export async function draw(
  file: string,
  replay: Replay,
  on: { readonly watch: LoadedWatch; readonly look: Look; readonly io: Io },
): Promise<void> {
  const { watch, look, io } = on;
  // A name that cannot be drawn to is told before anything is run.
  pictureFormat(file);
  const { timeline, experiment, verdict } = replay;
  const { watchFile } = watch;
  const trace = simulate(experiment, { record: 'all' });
  const limit = Math.min(look.closeUps ?? mostSentences, mostSentences);
  const explanations = explain({ experiment, verdict, asked: watchFile.judge, limit });
  const options = {
    theme: look.dark === true ? ('dark' as const) : ('light' as const),
    closeUps: look.closeUps,
    widthPx: look.width,
    title: look.title,
    explanations,
  };
  const svg = timelineChart({ timeline, trace, verdict, watchFile, options });
  await writePicture(file, svg, io);
}
