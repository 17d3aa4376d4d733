// The answer of `place`: both gaps with their intervals, the lines for the watch file, rows that contradict, and the door's verdict.
import { counted, numberText } from '../../base/index.js';
import type { GapEstimate, Placement, StickVerdict, Trial } from '../../place/index.js';
import { cautionWords } from '../layout/caution.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText, tableText } from '../layout/table-text.js';
import { afterSheet, sheetColumns, sheetRows, sheetSteps } from './sheet.js';

export interface PlaceView {
  readonly placement: Placement;
  readonly trials: readonly Trial[];
  readonly stick: StickVerdict | null;
  readonly sealMm: number;
  /** From a watch file, not the default. */
  readonly isSealGiven: boolean;
}

export function isPlaced({ placement, stick }: PlaceView): boolean {
  const { operate, release, odd, isReversed } = placement;
  const isFound = operate !== null && release !== null && !isReversed && odd.length === 0;
  return isFound && (stick === null || stick.reads === 'open');
}

export function* sheetText(width: number, paint: Paint): Generator<string> {
  yield `${paint.bold('Where the magnet goes: a sheet for trials at the door')}\n\n`;
  for (const [index, step] of sheetSteps.entries()) {
    yield paragraphText(step, width, `  ${String(index + 1)}. `);
  }
  yield '\n';
  const rows = sheetRows.map(([way, gap]) => ({
    cells: [way, gap, '___', '______', '______', '______'],
    below: [],
  }));
  yield* tableText(
    sheetColumns.map((title) => ({ title })),
    rows,
    width,
  );
  yield `\n${paragraphText(afterSheet, width)}`;
  yield `\n${paragraphText(paint.dim(cautionWords), width)}`;
}

export function* placeReport(view: PlaceView, width: number, paint: Paint): Generator<string> {
  const { placement, trials, sealMm } = view;
  const { operate, release, odd } = placement;
  yield `${paragraphText(paint.bold(headline(view)), width)}\n`;
  yield factsText(
    [
      ['trials', numberText(trials.length)],
      ['reads shut from (closing)', gapText(operate, 'closing', placement)],
      ['reads open above (opening)', gapText(release, 'opening', placement)],
      [
        'the door seals up to',
        `${mm(sealMm)}${view.isSealGiven ? '' : ', the default: door.sealGap in a watch file (-c) changes it'}`,
      ],
    ],
    width,
  );
  const within = betweenSealAndSwitch(view);
  if (within !== null) yield `\n${paragraphText(paint.doubtful(within), width)}`;
  if (odd.length > 0) {
    yield `\n${paint.bad(`${counted(odd.length, 'row')} ${odd.length === 1 ? 'contradicts' : 'contradict'} the others, and the gaps above are without ${odd.length === 1 ? 'it' : 'them'}`)}\n`;
    for (const { line, direction, gapMm, reads } of odd) {
      const words = `line ${String(line)}: ${direction}, ${mm(gapMm)}, reads ${reads}: repeat this trial, or correct the row`;
      yield paragraphText(words, width, '  - ');
    }
  }
  const lines = contactLines(placement);
  if (lines !== null) {
    yield `\n${paragraphText(paint.bold(linesTitle(view)), width)}`;
    for (const line of lines) yield `  ${line}\n`;
  }
  yield `\n${paragraphText(paint.dim(cautionWords), width)}`;
}

/** Of lines that go under a section which a watch file may have already. */
function linesTitle(view: PlaceView): string {
  const moves = view.stick !== null && view.stick.reads !== 'open' && !view.stick.needsTrials;
  return `For the watch file${moves ? ', as the magnet is now' : ''} (if it has contact: already, the two lines go under that)`;
}

/** What to do before these gaps are used; null: they can be. */
export function againText({ placement: { odd, wrongWay }, stick }: PlaceView): string | null {
  if (wrongWay.length > 0) return 'correct the rows, or the contact and its trials';
  const [trial, row] = odd.length === 1 ? ['the trial', 'its row'] : ['the trials', 'their rows'];
  if (odd.length > 0)
    return `repeat ${trial} that contradict${odd.length === 1 ? 's' : ''}, or correct ${row}`;
  if (stick === null || stick.reads === 'open') return null;
  if (stick.needsTrials) return 'make more trials, add their rows';
  if (!stick.staysShut && stick.gapsApartMm <= 0) return 'change where the door rests';
  return stick.staysShut
    ? 'move the magnet, do the trials again'
    : 'with another contact, do the trials again';
}

/** A door that reads shut farther out than it seals can rest open and unseen. */
function betweenSealAndSwitch({ placement, sealMm, stick }: PlaceView): string | null {
  const { operate, release, isReversed } = placement;
  const most = Math.max(operate?.highMm ?? 0, release?.highMm ?? 0);
  if (isReversed || most <= sealMm) return null;
  // The gap at which it opens is the larger one: without it, only where the door is not seen at least is known.
  const end = `${release === null ? 'at least ' : ''}${mm(Math.ceil(most * 10) / 10)}`;
  return `A door that rests between ${mm(sealMm)} and ${end} no longer seals, but may read shut, so no alert comes.${stick === null ? ' Add --sticks-at with such a gap to see what would help.' : ''}`;
}

/** The larger ends of the intervals: so proofs do not take the blind band for smaller than it is. */
export function contactLines({
  operate,
  release,
  isReversed,
}: Placement): readonly string[] | null {
  if (operate === null || release === null || isReversed) return null;
  const upper = (one: GapEstimate): number => Math.ceil(one.highMm * 10) / 10;
  const releaseMm = Math.max(upper(release), upper(operate));
  const why = releaseMm === upper(release) ? 'the larger end' : 'no smaller than operateGap';
  return [
    'contact:',
    `  operateGap: ${String(upper(operate))}mm   # ${between(operate)}: the larger end`,
    `  releaseGap: ${String(releaseMm)}mm   # ${between(release)}: ${why}`,
  ];
}

function headline(view: PlaceView): string {
  const { placement, stick } = view;
  const { operate, release, odd, wrongWay, isReversed } = placement;
  if (wrongWay.length > 0) return wrongWayText(placement);
  if (operate === null || release === null) {
    const way = operate === null ? 'closing' : 'opening';
    return `Not enough trials: while ${way}, the contact must read open at one gap and shut at another.`;
  }
  if (isReversed) {
    return 'These trials cannot be: the contact shuts at a larger gap than it opens at. Were closing and opening changed over, or did the magnet move?';
  }
  if (stick !== null) return stickText(stick, view);
  const doubt = odd.length > 0 ? ', but some trials contradict that' : '';
  return `The contact reads shut from ${estimate(operate)} when the door closes, and open above ${estimate(release)} when it opens${doubt}.`;
}

/** What is wrong, and what to do about each of its causes. */
function wrongWayText({ wrongWay, operate, release }: Placement): string {
  const [way] = wrongWay;
  if (way === undefined || wrongWay.length > 1) {
    return 'The contact reads the wrong way round, when the door closes and when it opens: open near the switch, and shut far from it. If open and shut were exchanged in the rows (such as by noting whether the switch conducts), exchange them. If the monitor itself reads like this, its contact is of the kind that opens at a magnet: exchange open and shut in its firmware, and do the trials again.';
  }
  const [verb, other] = way === 'closing' ? ['closes', 'opens'] : ['opens', 'closes'];
  const isOtherKnown = (way === 'closing' ? release : operate) !== null;
  const differs = isOtherKnown
    ? ` When it ${other}, it does not, and a contact is the same in both.`
    : '';
  return `When the door ${verb}, the contact reads the wrong way round: open near the switch, and shut far from it.${differs} If open and shut were exchanged in the rows of ${way}, exchange them; if not, do the trials again.`;
}

function stickText(stick: StickVerdict, { placement, trials }: PlaceView): string {
  const { gapMm, reads, moveAwayMm, staysShut, needsTrials, gapsApartMm } = stick;
  const at = `A door that rests at ${mm(gapMm)}`;
  if (reads === 'open' || moveAwayMm === null) return `${at} reads open: it is seen.`;
  const how = {
    shut: 'reads shut there: it is not seen',
    creeping: 'reads shut there if it crept open, and open if it was pushed to it',
    doubtful: 'may read shut there',
  }[reads];
  const { operate, release } = placement;
  if (needsTrials && operate !== null && release !== null) {
    const count = counted(trials.length, 'trial');
    const where = between({ lowMm: operate.lowMm, highMm: release.highMm });
    return `${at} ${how}. ${count} ${trials.length === 1 ? 'leaves' : 'leave'} the two gaps too uncertain (${between(operate)}, and ${between(release)}) to say where the magnet should be: make more trials at ${where}, then judge again.`;
  }
  // Ten times the millimetres, without what floating point adds to them.
  const by = mm(Math.ceil(Math.round(moveAwayMm * 1e6) / 1e5) / 10);
  const other =
    gapsApartMm > 0
      ? `take a contact whose two gaps lie at most ${mm(Math.floor(Math.round(gapsApartMm * 1e6) / 1e5) / 10)} apart`
      : 'no contact can do both so near to the gap at which the door seals';
  const help = staysShut
    ? `Move the magnet ${by} away from the switch (1 mm of it to spare), and try again`
    : `Moving the magnet ${by} away (1 mm of it to spare) would make it read open there, but then it might not read shut when the door is shut: ${other}`;
  return `${at} ${how}. ${help}; or make sure that the door always rests farther out.`;
}

function gapText(
  gap: GapEstimate | null,
  way: Trial['direction'],
  { wrongWay }: Placement,
): string {
  if (wrongWay.includes(way)) return `none: the trials while ${way} read the wrong way round`;
  if (gap === null) return `unknown: the trials while ${way} do not read both open and shut`;
  return `${rough(gap)} (${between(gap)} with 95 % confidence)`;
}

function estimate(gap: GapEstimate): string {
  return `${rough(gap)} (${between(gap)})`;
}

function rough({ mm: middle }: GapEstimate): string {
  return mm(Math.round(middle * 10) / 10);
}

function between({ lowMm, highMm }: Pick<GapEstimate, 'lowMm' | 'highMm'>): string {
  return `${String(Math.floor(lowMm * 10) / 10)} to ${String(Math.ceil(highMm * 10) / 10)} mm`;
}

function mm(gap: number): string {
  return `${String(gap)} mm`;
}

/** Schema `dozewatch/place/1`. */
export function placeJson(view: PlaceView): string {
  const { placement, trials, stick, sealMm } = view;
  const { operate, release, odd, wrongWay, isReversed } = placement;
  const answer = {
    schema: 'dozewatch/place/1',
    trials: trials.length,
    operateGapMm: operate,
    releaseGapMm: release,
    contradicting: odd,
    isReversed,
    wrongWayRound: wrongWay,
    sealGapMm: sealMm,
    sticks: stick,
    contact: contactLines(placement),
  };
  return `${JSON.stringify(answer, null, 2)}\n`;
}
