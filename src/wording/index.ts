// Wording: what was found, in sentences, rows and cells, once for terminal and page. It refuses to find anything out,
// to lay anything out, and to know where its words will stand.

export { assumingText, assumptions, deliveryIgnored, isDeliverySet } from './assumptions.js';
export { batteryFacts, type Facts, lasting } from './battery-facts.js';
export { notReachedText, safeLimitText } from './bound-names.js';
export {
  deviceText,
  environmentText,
  watchText,
} from './bounds-settings.js';
export { type AskedFor, allHolds, askedFor, type BoundsView, nameOf } from './bounds-view.js';
export {
  askedWords,
  boundsPoints,
  boundsSentences,
  boundsVerdict,
  changesText,
  gainText,
  heldText,
  priceText,
} from './bounds-words.js';
export { columnsOf, plainCut } from './columns.js';
export {
  falseAlarmsEach,
  isOpenInLog,
  knownText,
  longerLogText,
  lostText,
  missedOtherwise,
  rateOrder,
  rateRows,
  rateWords,
  spanText,
} from './estimate-words.js';
export { gapsWords } from './gaps-words.js';
export { laterEndMs, untilText } from './later-end.js';
export { frequencyText, type LengthBar, lengthBarIn, lengthBarOf } from './length-bar.js';
export { marginSpanText } from './margin-words.js';
export { dayAndTime, isoTime, type Moments, timeAfter } from './moments.js';
export { type Paint, unpainted } from './paint.js';
export { type PhaseColumn, phaseCells, phaseColumns } from './phase-cells.js';
export {
  falselyAlarming,
  heldAtEveryPhase,
  leaveOpensAtPhases,
  missesOnlyAtEnd,
  overRangesWords,
  phaseSentence,
  phasesSpan,
  phasesWords,
  shareText,
} from './phase-words.js';
export { pickedWords } from './picked-words.js';
export { provedSentence, provedWords, type Standing } from './proved-words.js';
export { disconnectWords, type Renewal, renewalOf } from './renewal.js';
export { remarkText, replayFacts } from './replay-facts.js';
export type { AlarmedPhase, FirmwareView, PhasesView, ReplayView } from './replay-view.js';
export { type DifferingSetting, differingSettings, settingTexts } from './setting-texts.js';
export { isDecidedSooner, isUnknown, type SheetRow, seconds, sheetRows } from './sheet.js';
export {
  boundText,
  countText,
  failuresOf,
  givenCells,
  givenColumns,
  knownRate,
  linesToWrite,
  livesText,
  meanRate,
  thresholdText,
  trialCells,
  trialColumns,
  tunedOverrides,
} from './tune-words.js';
export {
  cutOffEndMs,
  happenedWords,
  held,
  type Judged,
  mayHide,
  verdictStanding,
  verdictWords,
  withProof,
} from './verdict-words.js';
