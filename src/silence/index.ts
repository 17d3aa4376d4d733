// Silence: what no message means. From the messages that came, a sound device's simulated years and stated priors of faults: which
// explanations remain, how probable each is, and the cheapest tests at the door that distinguish them. It knows only these faults.

export {
  type DoorOutcome,
  type DoorTest,
  type DoorTestKind,
  type DoorTests,
  type DoorTimes,
  doorTests,
  emptyShare,
} from './door-tests.js';
export {
  type Explained,
  type Explanation,
  explainSilence,
  type LowBatteryHeard,
  lifeByWarning,
  type Observed,
  type SilenceAnswer,
  type SilenceQuestion,
  soundExplanations,
} from './explain.js';
export { areDaily } from './heartbeats.js';
export { meanBreakMs, type Priors, usualPriors } from './priors.js';
export { answerOf, type SoundYears, silenceStarts, soundYears } from './sound-years.js';
