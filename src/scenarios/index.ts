// Scenarios: text in, experiment out, and back. Watch files, scenarios, door logs and usage profiles become
// checked values, every problem with its line and column. It refuses to touch files, clocks and terminals, and
// it judges nothing.

export { writeDuration } from '../base/index.js';
export {
  type DeviceLine,
  type DeviceLogOptions,
  type DeviceLogRow,
  deviceLogColumns,
  parseDeviceLog,
} from './device-log/device-log.js';
export { asSeen, experimentOf, type Living, livingOf, yearsLivedWith } from './living.js';
export { openDoorLog } from './log/door-log.js';
export { timelineOfLog } from './log/timeline.js';
export { turnedList, wrappedList } from './log/wrapped-list.js';
export { evidenceOf, isFittedElsewhere } from './profile/evidence.js';
export { fitProfile, longBriefsPerYear, type ProfileFit } from './profile/fit.js';
export type { DurationFit } from './profile/fit-durations.js';
export type { LoggedDoor, ProcessFit } from './profile/fit-process.js';
export { type DrawnOpening, generateDoor } from './profile/generate.js';
export { loggedDays } from './profile/logged-days.js';
export { builtInProfile, builtInProfiles, parseProfile } from './profile/profile-file.js';
export { profileText } from './profile/profile-text.js';
export { resampleCount, resampled } from './profile/resamples.js';
export { openingsAYear } from './profile/year-doors.js';
export {
  bouncesTooMuch,
  type Mishaps,
  type YearHabits,
  type YearWorlds,
  yearWorlds,
} from './profile/year-worlds.js';
export { parseCelsius, parseLength, parseMeasuredLife, parseVolume } from './quantity/amounts.js';
export { parseDuration } from './quantity/duration.js';
export { parseShare } from './quantity/share.js';
export { parseReadings, type TemperatureReading } from './readings/readings.js';
export { checkedExpectations, unmetExpectations } from './scenario/expectations.js';
export { parseScenario } from './scenario/scenario.js';
export { emptyScenario, scenarioText } from './scenario/scenario-text.js';
export { timelineOf } from './scenario/timeline.js';
export { scenarioJsonSchema, watchJsonSchema } from './schema.js';
export { starterScenarioText, starterWatchText } from './starter.js';
export { type FileKind, kindsIn, otherKindOfText } from './text/kind-of-file.js';
export { didYouMean } from './text/suggest.js';
export { parseInstant } from './time/instant.js';
export { localDays, localMidnights, localTime } from './time/local-time.js';
export type {
  CheckedExpectation,
  DoorLog,
  DoorLogOptions,
  DoorLogReader,
  DurationDistribution,
  Expectations,
  GeneratedDoor,
  LeaveOpenHabit,
  LocalTime,
  LogCondition,
  LogFormat,
  LogTimelineOptions,
  Scenario,
  ScenarioOpening,
  Timeline,
  TimelineStart,
  UnmetExpectation,
  UsageProfile,
  WatchFile,
} from './types.js';
export { boundValues, type SettingValue, type Unbranded } from './watch/carried.js';
export type { WatchOverride } from './watch/overrides.js';
export { overrideOf, typedText } from './watch/short-form.js';
export { watchWarnings } from './watch/warnings.js';
export { defaultWatchFile, parseWatchFile } from './watch/watch-file.js';
export { overlaidWatchText, plainWatchFile, watchTextSaying } from './watch/watch-text.js';
export { type WrittenSection, wholeWatchFile } from './watch/whole.js';
export { overrideWith, settingLines } from './watch/written.js';
