// Machine: what ships in the device. Its settings, its retained memory, the statechart that decides, and that
// same logic compiled into a flat table. It refuses to know of time, doors, networks and files.
export type {
  ContactReading,
  DeviceEffect,
  DeviceInput,
  DeviceLogic,
  Phase,
  SleepInterval,
  WakeCause,
} from './logic.js';
export { initialMemory, openChecks, type RetainedMemory } from './memory.js';
export {
  isMachine,
  LogicFault,
  logicTools,
  type OtherState,
  otherLogic,
  otherTable,
} from './other-logic.js';
export {
  type EscalationThreshold,
  type LogicSettings,
  type LowBatteryLevel,
  type LowBatteryMessage,
  logicKey,
  type WakeOn,
  type WatchSettings,
} from './settings.js';
export {
  codeOf,
  compileTable,
  effectBit,
  effectCell,
  impossible,
  inputCode,
  inputCodes,
  type LogicTable,
  nextState,
  nominalSleepIn,
  sleepIn,
  wokenState,
} from './table.js';
export {
  equivalenceClasses,
  inputsAllowed,
  inputsInTime,
  isCheckCode,
  type PossibleInputs,
  reachableStates,
} from './walk.js';
export { effectOf, type WatchSnapshot, watchEvent, watchLogic, withMemory } from './watch-logic.js';
export { type WatchEvent, watchMachine } from './watch-machine.js';
