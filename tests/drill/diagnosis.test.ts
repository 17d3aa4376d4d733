// Which mistakes a record can come from: the one that the device has is always among them, and what rules one out is what came.
import { describe, expect, it } from 'vitest';
import {
  type Diagnosis,
  type Drill,
  diagnosed,
  resultsOf,
  type Step,
} from '../../src/drill/index.js';
import { mutantPrograms } from '../../src/mutants/index.js';
import type { WatchFile } from '../../src/scenarios/index.js';
import { compileWatch, type Program } from '../../src/sim/index.js';
import { watchTexts } from '../mutants/watches.js';
import { drillFor, endOf, notedOf, questionFor, watchOf } from './at-the-door.js';

const { window, plain } = watchTexts;
const ranges =
  'device: { bootTime: { min: 300ms, max: 500ms }, connectTime: { min: 2s, max: 8s }, clockError: { min: -2%, max: 2% } }\n';
const cases = Object.entries({ window, ranged: `${plain}${ranges}` }).map(([name, text]) => {
  const file = watchOf(text);
  return { name, file, drill: drillFor(file, true) };
});

/** What is noted of each step, to whole seconds, as it is typed. */
function noted(program: Program, file: WatchFile, steps: readonly Step[]): Map<number, number[]> {
  return new Map(
    steps.map((step, index) => [
      index + 1,
      notedOf(program, file, { step, seed: `step ${String(index)}` }).map(
        (ms) => Math.max(0, Math.round(ms / 1_000)) * 1_000,
      ),
    ]),
  );
}

function diagnosisOf(
  file: WatchFile,
  { steps }: Drill,
  seen: ReadonlyMap<number, readonly number[]>,
): Diagnosis {
  return endOf(diagnosed(questionFor(file, true), steps, resultsOf(steps, seen)));
}

describe.each(cases)('the diagnosis of a record of the $name watch', ({ file, drill }) => {
  const sound = compileWatch(file.watch);
  const { steps } = drill;

  it('names the mistake that the device has, and few others', () => {
    const faulty = mutantPrograms(sound, file.timing).filter(
      ({ alike, fault }, index) =>
        index % 4 === 0 && !alike && drill.faults.told.includes(fault.name),
    );
    expect(faulty.length).toBeGreaterThan(3);
    const counts = faulty.map(({ fault, program }) => {
      const seen = noted(program, file, steps);
      const { mistakes, silent } = diagnosisOf(file, drill, seen);
      // A device that never sends anything is not compared: something else explains it sooner.
      const isMute = [...seen.values()].every((times) => times.length === 0);
      expect([fault.name, mistakes.includes(fault.name)]).toEqual([fault.name, true]);
      expect(isMute && silent.length > 0).toBe(false);
      return mistakes.length;
    });
    expect(counts.reduce((sum, count) => sum + count, 0)).toBeLessThan(faulty.length * 4);
  });

  it('names none where messages came in all steps but one, which none of them gives', () => {
    const seen = noted(sound, file, steps);
    const last = steps.findLastIndex(({ windows }) => windows.length > 1);
    expect(last).toBeGreaterThan(0);
    const { mistakes, silent } = diagnosisOf(file, drill, new Map([...seen, [last + 1, []]]));
    expect({ mistakes, silent }).toEqual({ mistakes: [], silent: [last + 1] });
  });

  it('compares the times: of a message that is noted a minute late, none of those is left', () => {
    const alone = mutantPrograms(sound, file.timing).find(
      ({ fault }) => fault.name === 'threshold-one-more',
    );
    if (alone === undefined) throw new Error('the catalogue has it');
    const seen = noted(alone.program, file, steps);
    const late = new Map([...seen].map(([step, times]) => [step, times.map((ms) => ms + 70_000)]));
    expect(diagnosisOf(file, drill, seen).mistakes).toContain('threshold-one-more');
    expect(diagnosisOf(file, drill, late).mistakes).not.toContain('threshold-one-more');
  });
});
