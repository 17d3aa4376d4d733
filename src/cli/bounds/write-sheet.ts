// The data sheet of a watch, with its settings as a code that the planner reads.
import type { Bounds } from '../../bounds/index.js';
import { dataSheet } from '../../chart/index.js';
import { settingsIn, settingsText } from '../../planner/index.js';
import type { WatchOverride } from '../../scenarios/index.js';
import type { Io } from '../host/io.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import { writePicture } from '../layout/write-picture.js';
import { version } from '../program.js';
import type { BoundsOptions } from './options.js';

/** @throws InputProblem when it cannot be written. */
export async function writeSheet(
  file: string,
  on: {
    readonly watch: LoadedWatch;
    readonly overrides: readonly WatchOverride[];
    readonly bounds: Bounds;
    readonly options: Pick<BoundsOptions, 'plannerUrl' | 'title'>;
    readonly io: Io;
  },
): Promise<void> {
  const { watch, overrides, bounds, options, io } = on;
  const { text, name, watchFile } = watch;
  const set = {
    ...(text === null ? {} : settingsIn(text, name ?? 'the defaults')),
    ...Object.fromEntries(overrides.map((one) => [one.path.join('.'), one.text])),
  };
  const settings = settingsText(set);
  const { plannerUrl, title } = options;
  const named = name === null ? 'the defaults' : name === '-' ? 'standard input' : name;
  const svg = dataSheet({
    bounds,
    watchFile,
    file: named,
    settings: plannerUrl === undefined ? settings : `${plannerUrl}#${settings}`,
    isLink: plannerUrl !== undefined,
    version,
    title,
  });
  await writePicture(file, svg, io);
}
