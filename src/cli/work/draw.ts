// A replay as a picture in a file: SVG, or PNG where the name asks for it.
import { timelineChart } from '../../chart/index.js';
import { simulate } from '../../sim/index.js';
import { explain } from '../../verdict/index.js';
import { writeFileAtomically } from '../host/atomic-file.js';
import type { Io } from '../host/io.js';
import { problem } from '../problem.js';
import type { LoadedWatch } from './load-watch.js';
import type { Replay } from './replay-one.js';

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
  const format = pictureFormat(file);
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
  if (file === '-') await io.stdout.write(svg);
  else if (format === 'svg') await writeFileAtomically(file, [svg], io);
  else {
    const { pngOf } = await import('../host/png.js');
    await writeFileAtomically(file, [await pngOf(svg)], io);
  }
}

function pictureFormat(file: string): 'svg' | 'png' {
  if (file === '-' || /\.svg$/iu.test(file)) return 'svg';
  if (/\.png$/iu.test(file)) return 'png';
  throw problem('unknown-picture', file, {
    message: 'its name does not tell what kind of picture this is to be',
    expected: 'a name that ends in .svg or .png',
  });
}
