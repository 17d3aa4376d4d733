// World: what the device cannot control. The door and its gap, the contact that reads it, the network, the
// supply, and the device's own clock and start-up times. It refuses to know what the device decides.
export {
  type ContactEdges,
  type ContactFault,
  type ContactSettings,
  contactEdgesOf,
  idealContactEdges,
  readsOpenAt,
  withBounce,
  withFaults,
} from './contact.js';
export {
  type ClockError,
  type ClockErrorStep,
  type DeviceTiming,
  deviceTiming,
  type GivenTiming,
  middleTiming,
  type TemperatureStep,
  type Timing,
  type VaryingMs,
} from './device-timing.js';
export { type DoorMove, openingsOf, wideOpenUm } from './door.js';
export {
  firstAfter,
  type JoinEnd,
  joinEnd,
  nextBorder,
  noSpans,
  type Spans,
  spanAt,
  spansOf,
  within,
} from './spans.js';
export { clockErrorRangeOf, rangeMsOf } from './timing-ranges.js';
export { type ResetEffect, resetEffectAt, type World, withResetsClearing } from './world.js';
