// A replay in a file: as a picture (SVG or PNG), or as a value change dump for viewers of waveforms.

import path from 'node:path';
import { deviceMs, numberText, sentence } from '../../base/index.js';
import {
  type ChartOptions,
  reasonsToShow,
  timelineChart,
  valueChangeDump,
  wakesToRecord,
} from '../../chart/index.js';
import { mostDumpedWakes, mostReplayReasons } from '../../model/index.js';
import type { WatchFile } from '../../scenarios/index.js';
import { unpainted, verdictStanding, verdictWords } from '../../wording/index.js';
import type { Io } from '../host/io.js';
import { writeOutput } from '../host/write-output.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import { barOfWatch, provedOfWatch } from '../inputs/proved-of.js';
import { endingOf, unknownPicture, writePicture } from '../layout/write-picture.js';
import { problem } from '../problem.js';
import { version } from '../program.js';
import type { Replay } from '../replay/one.js';

const formats = ['svg', 'png', 'html', 'vcd'] as const;
type Format = (typeof formats)[number];

/** What the picture is to look like, as the options say it. */
export interface Look {
  readonly dark?: true | undefined;
  readonly closeUps?: number | undefined;
  readonly width?: number | undefined;
  readonly title?: string | undefined;
  /** The one that a page tells for getting it again. */
  readonly commandLine?: string | undefined;
  /** The options of the command, for the one that a page names to judge every phase. */
  readonly typed?: Readonly<Record<string, unknown>> | undefined;
  readonly svg?: true | undefined;
  readonly png?: true | undefined;
  readonly html?: true | undefined;
  readonly vcd?: true | undefined;
}

/**
 * @param hint another way to give the format, for the error.
 * @throws InputProblem when neither the options nor the file name give a format, or the options give two.
 */
export function drawnFormat(file: string, look: Look, hint?: string): Format {
  const asked = formats.filter((format) => look[format] === true);
  const [first, second] = asked;
  if (first !== undefined && second !== undefined) {
    throw problem('formats-exclude', `--${second}`, {
      message: `this and --${first} are two formats for one file`,
      hint: 'leave one of them out',
    });
  }
  const format = first ?? endingOf(file, formats);
  if (format !== null) return format;
  throw unknownPicture(file, '.svg, .png, .html or .vcd', hint);
}

/** @param file `-` for standard output, as SVG. @throws InputProblem when it cannot be written. */
export async function draw(
  file: string,
  replay: Replay,
  on: { readonly watch: LoadedWatch; readonly look: Look; readonly io: Io },
): Promise<void> {
  const { watch, look, io } = on;
  // A name that cannot be drawn to is refused before anything is run.
  const format = drawnFormat(file, look);
  if (format === 'html') {
    refusePageOfOwnLogic(file, replay, watch);
    const { timelinePage } = await import('../report/run.js');
    await writeText(file, [await timelinePage(replay, watch, look)], io);
    return;
  }
  const { timeline, verdict } = replay;
  const watchFile = seenOf(watch.watchFile, replay);
  if (format === 'vcd') {
    refuseLongDump(file, replay);
    const dumped = { timeline, trace: replay.traced(), watchFile, version };
    await writeText(file, valueChangeDump(dumped), io);
    return;
  }
  const note = noteOf(replay, watch);
  const options = {
    note,
    bar: replay.firmware === null ? (barOfWatch(watch) ?? undefined) : undefined,
    watchName: watch.name === null ? 'the defaults' : path.basename(watch.name),
    theme: look.dark === true ? ('dark' as const) : ('light' as const),
    closeUps: look.closeUps,
    widthPx: look.width,
    title: look.title,
  };
  const run = { timeline, trace: replay.trace, verdict, watchFile, options };
  const explanations = replay.explained(mostReplayReasons, reasonsToShow(run));
  const trace = replay.traced(wakesToRecord(run));
  const svg = timelineChart({
    timeline,
    trace,
    verdict,
    watchFile,
    options: { ...options, explanations },
  });
  await writePicture(file, svg, io, format);
}

/** The verdict in its two parts; undefined: of a firmware, nothing is proved. */
function noteOf(
  { verdict, timeline, unmet, firmware }: Replay,
  watch: LoadedWatch,
): ChartOptions['note'] {
  if (firmware !== null) return undefined;
  const proved = provedOfWatch(watch);
  return {
    words: sentence(
      verdictWords({ verdict, proved, timeline, watchFile: watch.watchFile }, unpainted),
    ),
    standing: verdictStanding({ verdict, proved, timeline }, unmet === null || unmet.length === 0),
  };
}

function refuseLongDump(file: string, { wakes }: Replay): void {
  if (wakes <= mostDumpedWakes) return;
  throw problem('too-many-wakes', file, {
    message: 'the device wakes too often for a value change dump',
    found: `${numberText(wakes)} wakes`,
    expected: `at most ${numberText(mostDumpedWakes)}`,
    hint: 'give a shorter timeline, or draw a picture: -o NAME.svg',
  });
}

async function writeText(file: string, pieces: Iterable<string>, io: Io): Promise<void> {
  if (file !== '-') await writeOutput(file, pieces, io);
  else for (const piece of pieces) await io.stdout.write(piece);
}

/** Of a firmware nobody knows how long it keeps quiet after an alert: nothing is drawn of that. */
function seenOf(watchFile: WatchFile, { firmware }: Replay): WatchFile {
  if (firmware === null) return watchFile;
  return { ...watchFile, watch: { ...watchFile.watch, alertCooldownMs: deviceMs(0) } };
}

/** A page runs the watch again where it is looked at, and there is only the watch's own logic. */
function refusePageOfOwnLogic(file: string, { firmware }: Replay, { ownLogic }: LoadedWatch): void {
  if (firmware === null && !ownLogic) return;
  throw problem('page-of-own-logic', file, {
    message:
      'a page shows only the logic of a watch file, and this timeline ran with another logic',
    hint: 'write a picture instead: a name that ends in .svg, .png or .vcd',
  });
}
