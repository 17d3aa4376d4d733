// Once before all tests, also where one file is run alone: says the seed, and unpacks the browser.
import { unpackBrowser } from '../browser/unpack.js';
import { seedOfTests } from './seed.js';

export async function setup(): Promise<void> {
  console.log(`seed of the property tests: ${String(seedOfTests())} (DOZEWATCH_SEED sets another)`);
  await unpackBrowser();
}
