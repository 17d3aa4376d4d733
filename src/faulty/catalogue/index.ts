// The catalogue: every faulty watch, in the order in which reports name them.
import type { FaultyWatch } from '../faulty-watch.js';
import { cooldownFaults } from './cooldown.js';
import { countingFaults } from './counting.js';
import { rememberingFaults } from './remembering.js';
import { sendingFaults } from './sending.js';
import { wakingFaults } from './waking.js';

export const faultyWatches: readonly FaultyWatch[] = [
  ...countingFaults,
  ...rememberingFaults,
  ...cooldownFaults,
  ...sendingFaults,
  ...wakingFaults,
];
