// Work that grows faster than its input: a reader is given an input and one of twice the length, both long enough to take
// some time, and the processor's time for them is compared.
import type { Draw } from '../laws/support/draw.js';
import { growthCases } from '../support/growth.js';
import type { GrowthCase } from '../support/growth-case.js';

/** Long enough to be measured, in ms of the processor. */
const leastMs = 40;
const longestInput = 1_000_000;
/** Twice the input takes twice the work, and somewhat more where something is sorted or collected. */
const mostTimes = 3;
const tries = 4;

/** What one of the inputs does, drawn. */
export async function growthFaults(draw: Draw): Promise<readonly string[]> {
  const one = draw.pick(growthCases);
  let length = 1_000;
  while (length < longestInput && (await leastTime(one, length, 1)) < leastMs) length *= 2;
  if (length >= longestInput) return [];
  let times = Number.POSITIVE_INFINITY;
  for (let attempt = 0; attempt < tries && times > mostTimes; attempt += 1) {
    const [twice, once] = [await leastTime(one, 2 * length, 2), await leastTime(one, length, 2)];
    times = Math.min(times, twice / once);
  }
  if (times <= mostTimes) return [];
  return [
    `${one.name}: twice the input takes ${times.toFixed(1)} times the work (${String(length)} and ${String(2 * length)})`,
  ];
}

/** The least of a few measurements: whatever else the machine does makes them longer only. */
async function leastTime(one: GrowthCase, length: number, measurements: number): Promise<number> {
  const input = one.make(length);
  let leastUs = Number.POSITIVE_INFINITY;
  for (let count = 0; count < measurements; count += 1) {
    const before = process.cpuUsage();
    await one.run(input);
    const { user, system } = process.cpuUsage(before);
    leastUs = Math.min(leastUs, user + system);
  }
  return leastUs / 1_000;
}
