// Sim: where machine and world meet. An experiment goes in, its trace comes out; the device never sees the
// truth, only what the contact reads. It refuses to judge.

export type { AnswerRecord, Answers } from './answers.js';
export {
  leftWhenLowPc,
  lowAfter,
  type Prices,
  pricesOf,
  shutTime,
  worstSpending,
} from './charge-prices.js';
export { type SleepClock, sleepClock } from './clock.js';
export { type Durations, durations } from './durations.js';
export {
  compileWatch,
  compileWatches,
  type Experiment,
  type Program,
  type SlipFacts,
  type TimeSlips,
} from './experiment.js';
export { type Faults, faultsOf } from './faults.js';
export { type SimulateOptions, simulate } from './kernel.js';
export type { SendKind } from './running-tally.js';
export { answerTo, sendIn } from './send.js';
export type {
  AlertRecord,
  ChargeRecord,
  CheckRecord,
  Decision,
  LowBatteryRecord,
  SendOutcome,
  SendRecord,
  SleepRecord,
  Tally,
  Trace,
  WakeRecord,
} from './trace.js';
export { sendOfWake } from './trace.js';
