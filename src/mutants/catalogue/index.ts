// The catalogue: every faulty watch, in the order in which reports name them.
import type { Mutant } from '../mutant.js';
import { cooldownMutants } from './cooldown.js';
import { countingMutants } from './counting.js';
import { lateMutants } from './late.js';
import { rememberingMutants } from './remembering.js';
import { sendingMutants } from './sending.js';
import { wakingMutants } from './waking.js';

export const mutants: readonly Mutant[] = [
  ...countingMutants,
  ...rememberingMutants,
  ...cooldownMutants,
  ...sendingMutants,
  ...wakingMutants,
  ...lateMutants,
];
