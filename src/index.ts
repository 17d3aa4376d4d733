/**
 * dozewatch as a library: the same pure functions that the command line runs, without files, clocks or terminals.
 *
 * ```ts
 * import { bounds, parseScenario, parseWatchFile, replay, timelineOf } from 'dozewatch';
 *
 * const watchFile = parseWatchFile(watchText, 'watch.yaml');
 * const scenario = parseScenario(scenarioText, 'delivery-day.yaml');
 * if (!watchFile.ok || !scenario.ok) throw new Error('see .errors');
 * const timeline = timelineOf(scenario.value, watchFile.value);
 * if (!timeline.ok) throw new Error('see .errors');
 *
 * console.log(replay(timeline.value, watchFile.value).verdict.summary);
 * console.log(bounds(watchFile.value).alwaysReportedFromMs);
 * ```
 *
 * A function that reads text gives a `Result`: a value with warnings, or every error with its line and column. The
 * others take checked values, and throw an `InvariantError` only for an error in dozewatch or in the program that
 * calls it. Every instant is a whole number of milliseconds from the timeline's start.
 *
 * @packageDocumentation
 */

// Values: quantities with their units, results, what is wrong with an input, durations in words.
export {
  type DeviceMs,
  type Diagnostic,
  deviceMs,
  durationText,
  err,
  InvariantError,
  ok,
  type Ppm,
  ppm,
  type Result,
  roughDurationText,
  type SourceRef,
  type TrueMs,
  trueMs,
  type Um,
  um,
} from './base/index.js';
// The battery: what a watch takes from its charge, activity by activity, and how long the charge lasts.
export {
  type BatteryAnswer,
  type BatteryQuestion,
  batteryAnswer,
  costOf,
  isFlatBeforeEnd,
  type NamedUse,
  quietUse,
  type Use,
  type UseCost,
  useOf,
} from './battery/index.js';

// What the answers hold.
export type {
  Aliasing,
  AtRestAndAnyState,
  BlindBandMm,
  Bounds,
  Curve,
  Finding,
  Holds,
  NowAndThen,
  Price,
  Remedy,
  Unreportable,
  Witness,
} from './bounds/index.js';
// A picture of a timeline and what the watch did in it.
export { timelineChart } from './chart/index.js';
export type { DelaySpread, Estimate, Rate, Share } from './estimate/index.js';
// The questions of the command line, each as one function.
export {
  bounds,
  type EstimateOptions,
  estimate,
  type ReplayAnswer,
  replay,
  replayAtEveryPhase,
} from './library.js';
// The watch: its settings and the logic that ships in the device, behind the one seam for such logic.
export {
  type ContactReading,
  type DeviceEffect,
  type DeviceInput,
  type DeviceLogic,
  type EscalationThreshold,
  type LogicSettings,
  type Phase,
  type RetainedMemory,
  type SleepInterval,
  type WakeCause,
  type WakeOn,
  type WatchSettings,
  watchLogic,
  watchMachine,
} from './machine/index.js';
export {
  type Limit,
  type Margin,
  type MarginQuestion,
  marginOf as margin,
  type NamedLimit,
  namedLimits,
} from './margin/index.js';
// What a watch file says of its device's times, of its supply and of its environment.
export {
  type ActivityDraw,
  type ClockErrorRange,
  type ContactBias,
  type Environment,
  type MeasuredLife,
  type PpmRange,
  type RangeMs,
  type Requirements,
  type SelfDischarge,
  type SupplySettings,
  type TemperaturePoint,
  type TimingRanges,
  type VoltagePoint,
} from './model/index.js';
// Every phase of the checks.
export type { EveryPhase, OpeningAtEveryPhase, PhaseSummary } from './phase/index.js';

// Text in: watch files, scenarios, door logs, usage profiles. Timelines out.
export {
  builtInProfile,
  type DoorLog,
  type DoorLogOptions,
  type DoorLogReader,
  type DrawnOpening,
  type DurationDistribution,
  defaultWatchFile,
  type Expectations,
  emptyScenario,
  type GeneratedDoor,
  generateDoor,
  type LeaveOpenHabit,
  type LocalTime,
  type LogCondition,
  type LogFormat,
  type LogTimelineOptions,
  localTime,
  type Mishaps,
  openDoorLog,
  parseDuration,
  parseInstant,
  parseProfile,
  parseScenario,
  parseWatchFile,
  type Scenario,
  type ScenarioOpening,
  scenarioText,
  starterScenarioText,
  starterWatchText,
  type Timeline,
  type TimelineStart,
  timelineOf,
  timelineOfLog,
  type UnmetExpectation,
  type UsageProfile,
  unmetExpectations,
  type WatchFile,
  type WatchOverride,
  watchWarnings,
} from './scenarios/index.js';

// The run: an experiment in, its trace out.
export {
  type AlertRecord,
  type CheckRecord,
  compileWatch,
  type Decision,
  type Experiment,
  type Program,
  type SendOutcome,
  type SendRecord,
  type SimulateOptions,
  type SleepRecord,
  simulate,
  type Tally,
  type Trace,
  type WakeRecord,
} from './sim/index.js';

// The verdict, and one sentence of plain words for each thing that was not as it should be.
export {
  type AlertKind,
  type Explanation,
  explain,
  type JudgedAlert,
  type JudgedOpening,
  type JudgedOpenings,
  type JudgedTrace,
  judge,
  type OpeningOutcome,
  type Summary,
  type Verdict,
} from './verdict/index.js';

// The world: the door, the contact, the network and power as they truly were.
export {
  type ClockError,
  type ClockErrorStep,
  type ContactEdges,
  type ContactFault,
  type ContactSettings,
  contactEdgesOf,
  type DeviceTiming,
  type DoorMove,
  deviceTiming,
  type GivenTiming,
  idealContactEdges,
  noSpans,
  openingsOf,
  type Spans,
  spansOf,
  type TemperatureStep,
  type Timing,
  type VaryingMs,
  type World,
  withBounce,
  withFaults,
} from './world/index.js';
