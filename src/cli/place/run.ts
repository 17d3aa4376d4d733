// `dozewatch place` at work.
import { plain } from '../../base/index.js';
import {
  parseCurrentReadings,
  parseTrials,
  placementOf,
  sleepCurrentOf,
  stickOf,
} from '../../place/index.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { refuseOtherEnding } from '../host/outputs.js';
import { readText } from '../host/read-text.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { loadWatch } from '../inputs/load-watch.js';
import { asRun } from '../layout/command-line.js';
import { nextLine } from '../layout/next-line.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { problem, valueOfFile } from '../problem.js';
import { currentJson, currentReport, currentSheetText, isMeasured } from './current-report.js';
import { currentPage } from './current-sheet.js';
import type { PlaceOptions } from './options.js';
import {
  againText,
  contactLines,
  isPlaced,
  type PlaceView,
  placeJson,
  placeReport,
  sheetText,
} from './report.js';
import { sheetPage } from './sheet.js';

/** @throws InputProblem for options and files that cannot be read or believed. */
export async function place(
  file: string | undefined,
  options: PlaceOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  const paint = paintFor('stdout', on);
  const isCurrent = options.sleepCurrent === true;
  if (file === undefined) {
    refuseWithoutTrials(options);
    if (options.output === undefined) {
      const sheet = isCurrent ? currentSheetText : sheetText;
      await print(io, [...sheet(io.stdout.columns, paint)].join(''));
    } else {
      const outputs = [{ option: '--output', file: options.output }];
      await refuseUnfitOutputs(outputs, { inputs: [], io });
      refuseOtherEnding(options.output, 'the sheet is a page', '.html');
      await writeOutput(
        options.output,
        [asRun(isCurrent ? currentPage() : sheetPage(), io.environment)],
        io,
      );
      if (options.output !== '-') await print(io, `Wrote ${plain(options.output)}\n`);
    }
    return 0;
  }
  if (options.output !== undefined) {
    throw problem('sheet-with-trials', '--output', {
      message: 'the sheet is empty: it is written without trials',
      found: file,
      hint: 'leave out the file, or --output',
    });
  }
  if (isCurrent) return sleepCurrent(file, options, on);
  const text = await readText(file, io);
  const { trials } = valueOfFile(parseTrials(text, file), text, { file, wanted: 'list of trials' });
  const { watchFile, name } = await loadWatch(options.config, io);
  const sealMm = watchFile.sealGapUm / 1_000;
  const placement = placementOf(trials);
  const sticksMm = options.sticksAt === undefined ? null : gapMmOf(options.sticksAt);
  if (sticksMm !== null) refuseSealed(sticksMm, sealMm);
  const stick = sticksMm === null ? null : stickOf(placement, sticksMm, sealMm);
  const isSealGiven = name !== null;
  const view = { placement, trials, stick, sealMm, isSealGiven };
  if (options.json === true) await io.stdout.write(placeJson(view));
  else {
    await print(io, [...placeReport(view, io.stdout.columns, paint)].join(''));
    await print(io, nextText(view, name));
  }
  return isPlaced(view) ? 0 : 1;
}

function refuseSealed(sticksMm: number, sealMm: number): void {
  if (sticksMm > sealMm) return;
  throw problem('out-of-range', '--sticks-at', {
    message: 'at this gap the door still seals, and counts as shut',
    found: `${String(sticksMm)}mm`,
    expected: `a gap larger than ${String(sealMm)}mm (door.sealGap)`,
    hint: 'give the gap at which the door rests and no longer seals, or correct sealGap under door: in the watch file',
  });
}

/** The trials again where something moves or contradicts, since these gaps then no longer hold; else what they prove. */
function nextText(view: PlaceView, name: string | null): string {
  const { placement } = view;
  if (contactLines(placement) === null && placement.wrongWay.length === 0) return '';
  const again = againText(view);
  if (again !== null) return `\nNext: ${again}, and run the same command again.\n`;
  const why =
    name === null
      ? 'write these lines into your watch file, and prove its bounds, with its name for FILE'
      : 'with these lines in the watch file, prove the bounds again';
  return nextLine(why, ['bounds', '-c', name ?? 'FILE']);
}

/** @throws InputProblem for readings that cannot be read or believed. */
async function sleepCurrent(
  file: string,
  options: PlaceOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  if (options.sticksAt !== undefined) {
    throw problem('options-conflict', '--sticks-at', {
      message: 'it is about a door, and --sleep-current about a current',
      hint: 'leave out one of them',
    });
  }
  const text = await readText(file, io);
  const readings = valueOfFile(parseCurrentReadings(text, file), text, {
    file,
    wanted: 'list of readings of the current asleep',
    option: '--sleep-current',
  });
  const view = { readings, found: sleepCurrentOf(readings) };
  if (options.json === true) await io.stdout.write(currentJson(view));
  else {
    const paint = paintFor('stdout', on);
    await print(io, [...currentReport(view, io.stdout.columns, paint)].join(''));
  }
  return isMeasured(view) ? 0 : 1;
}

function refuseWithoutTrials({ json, sticksAt }: PlaceOptions): void {
  const [option] = [
    json === true ? '--json' : '',
    sticksAt === undefined ? '' : '--sticks-at',
  ].filter((name) => name !== '');
  if (option === undefined) return;
  throw problem('trials-missing', option, {
    message: 'this option needs a file of trials',
    hint: 'name it, such as dozewatch place trials.csv; without a file the sheet is printed',
  });
}

function gapMmOf(text: string): number {
  const digits = /^(\d+(?:\.\d+)?)\s*(?:mm)?$/u.exec(text.trim())?.[1];
  const gapMm = Number(digits);
  if (digits !== undefined && gapMm <= 500) return gapMm;
  throw problem('gap-unreadable', '--sticks-at', {
    message: 'this is not a gap of up to 500 mm',
    found: text,
    expected: 'a gap such as 12mm',
  });
}
