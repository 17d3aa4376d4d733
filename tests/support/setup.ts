// Before each test file: the seed of the property tests.
import { configureGlobal } from 'fast-check';
import { seedOfTests } from './seed.js';

configureGlobal({ seed: seedOfTests() });
