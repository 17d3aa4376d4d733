// Hunt: random door timelines that look for trouble. It refuses to know how a device is run or judged. Users
// import it as `dozewatch/arbitraries`.
export {
  doorOpenings,
  doorTimelines,
  instants,
  lengths,
  networkOutages,
  powerCuts,
  resets,
  type TimelineShape,
} from './arbitraries.js';
export { type Rhythm, rhythmOf } from './rhythm.js';
