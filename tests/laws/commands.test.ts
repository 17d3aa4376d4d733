// Commands that are given the same random files do not contradict each other.
import { describe, expect, it } from 'vitest';
import { atWork, type CommandCase } from './support/command-case.js';
import {
  drillLaw,
  marginLaw,
  remedyLaw,
  reportLaw,
  tuneLaw,
  witnessLaw,
} from './support/command-laws.js';
import { type Broken, lawCase } from './support/law-case.js';
import { plannerLaw } from './support/planner-law.js';
import { batteryLaw, boundsTextLaw, replayTextLaw } from './support/word-laws.js';

/** Cases from an index on, each of which a law must hold for. */
async function holds(
  [from, count]: readonly [from: number, count: number],
  law: (at: CommandCase) => Broken | Promise<Broken>,
): Promise<void> {
  for (let index = from; index < from + count; index += 1) {
    const one = lawCase('commands', index, 'quick');
    const broken = await atWork(one, async (at) => await law(at));
    expect(broken ?? [], `case ${String(index)}:\n${one.watchText}\n${one.scenarioText}`).toEqual(
      [],
    );
  }
}

describe('commands about one random watch file', () => {
  it('show every bound by a witness that replays to the millisecond', async () => {
    await holds([0, 12], witnessLaw);
  });
  it('propose remedies that are proved once they are in the file', async () => {
    await holds([12, 12], async (at) => await remedyLaw(at, 1));
  });
  it('prove the same in bounds, margin, planner and report', async () => {
    await holds([24, 12], async (at) => [
      ...(await marginLaw(at)),
      ...plannerLaw(at),
      ...(await reportLaw(at)),
    ]);
  });
  it('tune to settings that bounds proves', async () => {
    await holds([36, 8], tuneLaw);
  });
  it('drill what bounds proves where nothing goes wrong', async () => {
    await holds([44, 3], drillLaw);
  });
  it('say in words what they say in JSON', async () => {
    await holds([48, 24], async (at) => [
      ...(await boundsTextLaw(at)),
      ...(await replayTextLaw(at)),
      ...(await batteryLaw(at)),
    ]);
  });
});
