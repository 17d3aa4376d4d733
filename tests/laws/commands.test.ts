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
import { drillTextLaw, marginTextLaw } from './support/figure-laws.js';
import { type Broken, lawCase } from './support/law-case.js';
import { plannerLaw } from './support/planner-law.js';
import { batteryLaw, boundsTextLaw, replayTextLaw } from './support/word-laws.js';

/** Cases of a test: commands take long, and more than a few are for the soak. */
const perTest = 4;

/** The cases from an index on hold a law, in tests of a few each. */
function holds(
  [from, count]: readonly [from: number, count: number],
  title: string,
  law: (at: CommandCase) => Broken | Promise<Broken>,
): void {
  const starts = Array.from(
    { length: Math.ceil(count / perTest) },
    (_, index) => from + index * perTest,
  );
  it.each(starts)(`${title}, from case %i on`, async (start) => {
    for (let index = start; index < Math.min(start + perTest, from + count); index += 1) {
      const one = lawCase('commands', index, 'quick');
      const broken = await atWork(one, async (at) => await law(at));
      expect(broken ?? [], `case ${String(index)}:\n${one.watchText}\n${one.scenarioText}`).toEqual(
        [],
      );
    }
  });
}

describe('commands about one random watch file', () => {
  holds([0, 3], 'show every bound by a witness that replays to the millisecond', witnessLaw);
  holds(
    [12, 3],
    'propose remedies that are proved once they are in the file',
    async (at) => await remedyLaw(at, 1),
  );
  holds([24, 3], 'prove the same in bounds, margin, planner and report', async (at) => [
    ...(await marginLaw(at)),
    ...plannerLaw(at),
    ...(await reportLaw(at)),
  ]);
  holds([36, 3], 'tune to settings that bounds proves', tuneLaw);
  holds([45, 1], 'drill what bounds proves where nothing goes wrong', drillLaw);
  holds([45, 1], 'print the checklist that is in the JSON', drillTextLaw);
  holds([48, 3], 'say in words what they say in JSON', async (at) => [
    ...(await boundsTextLaw(at)),
    ...(await replayTextLaw(at)),
    ...(await batteryLaw(at)),
    ...(await marginTextLaw(at)),
  ]);
});
