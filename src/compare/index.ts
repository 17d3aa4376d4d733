// Compare: a log of the real device against its watch and its door. How wrong its clock runs, which checks never
// happened, what it read wrongly, and where it reported something else than the machine would have. It refuses to
// read files, and to guess what the device thought.
export type { ClockEstimate } from './clock.js';
export {
  type Comparison,
  compareDevice,
  type DeviceQuestion,
  expectedOf,
  type Misreading,
} from './compare.js';
export type { Expected, ExpectedAlerts } from './expected.js';
export type { AlertDifference, CheckAfterHold } from './follow.js';
export { missingHeartbeats } from './heartbeats.js';
export type { MissingChecks } from './missing-checks.js';
export { type MessagesNotInFile, messagesNotInFile } from './not-in-file.js';
export { type HourShift, hourShiftOf } from './shift.js';
