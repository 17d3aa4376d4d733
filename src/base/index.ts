// Base: quantities with their units, plain text, invariants, results, diagnostics and named random streams. It knows
// nothing of doors, devices or files.
export { cellAt, greatestOf, itemAt, leastOf, pushAll } from './cells.js';
export type { Diagnostic, SourceRef } from './diagnostic.js';
export {
  durationText,
  roughDurationText,
  roundedApart,
  roundedDurationText,
  roundedMs,
  type Said,
  writeDuration,
} from './duration-text.js';
export {
  chanceText,
  figure,
  measuredPercentText,
  percentText,
  ppmText,
  type Rounded,
  sideText,
  tenthsText,
  voltageText,
} from './figures.js';
export { fnv1a32 } from './fnv1a.js';
export { InvariantError, invariant, unreachable } from './invariant.js';
export { firstTooDeep, quotedEnd } from './nesting.js';
export {
  counted,
  inThousands,
  listText,
  nameOfFile,
  numberText,
  plain,
  sentence,
  shellWord,
  withArticle,
} from './plain.js';
export {
  type RandomBlock,
  type RandomStream,
  randomBlock,
  randomStream,
  streamState,
} from './random.js';
export { isRecord } from './record.js';
export { err, ok, type Result } from './result.js';
export {
  atLeastMs,
  type DeviceMs,
  dayMs,
  deviceMs,
  hourMs,
  lastsMs,
  meanYearMs,
  minuteMs,
  type Ppm,
  ppm,
  type TrueMs,
  trueMs,
  type Um,
  um,
  weekdays,
  weekMs,
  yearMs,
} from './units.js';
export { utf8Text } from './utf8.js';
