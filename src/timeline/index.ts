// Timeline: all that happens around a device, as plain numbers that can be left out, moved and cut short, and the one reducer that
// makes a timeline that shows something as small and round as it still shows it. It refuses to know what is shown: a broken
// requirement, or a bound.
export { niceLengthsMs, type Reduction, reduced } from './reduce.js';
export {
  cutAt,
  partsOfWorld,
  type Scene,
  type Span,
  shiftedFrom,
  spanLengthMs,
  worldOfScene,
} from './scene.js';
