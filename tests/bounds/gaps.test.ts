// For which openings bounds hold where the contact is real, and what the watch file's word on the door decides. The worked
// examples are those of the design: a contact of 8 and 12 mm on a door that seals up to 2 mm.
import { describe, expect, it } from 'vitest';
import { boundsOf, questionOf } from '../../src/bounds/index.js';
import { parseScenario, parseWatchFile, timelineOf } from '../../src/scenarios/index.js';
import { prover } from '../../src/tune/prove.js';
import { valueOf } from '../scenarios/reading.js';
import { question as tuneQuestion } from '../tune/grid-of-trials.js';

function fileWith(door: string, judge = 'leaveOpenAfter: 5m') {
  const text = `watch: { checkInterval: 2m, escalationThreshold: 2 }
contact: { operateGap: 8mm, releaseGap: 12mm }
door: { sealGap: 2mm${door} }
judge: { ${judge} }
`;
  const read = parseWatchFile(text, 'w.yaml');
  if (!read.ok) throw new Error(JSON.stringify(read.errors));
  return read.value;
}

const boundsFor = (...parts: Parameters<typeof fileWith>) =>
  boundsOf(questionOf(fileWith(...parts)));

describe('bounds with a real contact', () => {
  it('hold for openings wider than the release gap, which changes no verdict', () => {
    const bounds = boundsFor('');
    expect(bounds.gaps).toMatchObject({ kind: 'wider', overMm: 12 });
    expect(bounds.holds.leaveOpenAfter.atRest).toBe(true);
    expect(bounds.alwaysReportedFromMs.atRest).toBe(240_800);
  });

  it.each(['5mm', '12mm'])('are not enough for a door that may rest at %s', (gap) => {
    const bounds = boundsFor(`, opensAtLeast: ${gap}`, 'leaveOpenAfter: 5m, reportWithin: 10m');
    expect(bounds.holds.leaveOpenAfter).toEqual({ atRest: false, anyState: false });
    expect(bounds.holds.reportWithin).toEqual({ atRest: false, anyState: false });
    expect(bounds.remedies).toEqual([]);
    expect(bounds.advice).toContain('12 mm');
  });

  it('are those of an ideal contact for a door that never rests below 60 mm', () => {
    const at = (after: string) =>
      boundsFor(', opensAtLeast: 60mm', `leaveOpenAfter: ${after}`).holds.leaveOpenAfter.atRest;
    expect([at('3m'), at('5m')]).toEqual([false, true]);
    expect(boundsFor(', opensAtLeast: 60mm').gaps).toMatchObject({ kind: 'assumed' });
  });

  it('hold for every opening where the contact releases within the seal', () => {
    const read = parseWatchFile(
      'contact: { operateGap: 1mm, releaseGap: 2mm }\ndoor: { sealGap: 2mm, opensAtLeast: 3mm }',
      'w.yaml',
    );
    const { gaps, blindBandMm } = boundsOf(questionOf(valueOf(read)));
    expect([gaps, blindBandMm]).toEqual([null, null]);
  });

  it('name the gaps at which the contact reads shut: up to its release, and from its operation', () => {
    const band = (contact: string) =>
      boundsOf(
        questionOf(
          valueOf(parseWatchFile(`contact: ${contact}\ndoor: { sealGap: 2mm }`, 'w.yaml')),
        ),
      ).blindBandMm;
    expect(band('{ operateGap: 8mm, releaseGap: 12mm }')).toEqual({
      closing: [2, 8],
      creeping: [2, 12],
    });
    expect(band('{ operateGap: 2mm, releaseGap: 3mm }')).toEqual({
      closing: null,
      creeping: [2, 3],
    });
  });
});

describe('what the watch file says of the door', () => {
  it('is an error where an open door would be within its seal', () => {
    const read = parseWatchFile('door: { sealGap: 2mm, opensAtLeast: 2mm }', 'w.yaml');
    expect(read.ok ? [] : read.errors.map(({ code }) => code)).toEqual(['opens-within-seal']);
  });

  it.each([
    ['1mm', null],
    ['2mm', null],
    ['3mm', 'gap-below-opens-at-least'],
    ['59mm', 'gap-below-opens-at-least'],
    ['60mm', null],
  ])('refuses a scenario whose door rests at %s: %s', (gap, code) => {
    const text = `length: 2h\nname: ajar\ndoor:\n  - { at: "00:10", for: 30m, gap: ${gap} }\n`;
    const scenario = parseScenario(text, 's.yaml');
    if (!scenario.ok) throw new Error('the scenario can be read');
    const timeline = timelineOf(scenario.value, fileWith(', opensAtLeast: 60mm'));
    expect(timeline.ok ? null : timeline.errors[0]?.code).toBe(code);
    if (!timeline.ok) expect(timeline.errors[0]?.source).toMatchObject({ line: 4, column: 35 });
  });

  it('keeps a search for settings from calling any of them sure', () => {
    const { contact, sealGapUm, opensAtLeastUm } = fileWith(', opensAtLeast: 5mm');
    const prove = prover({ ...tuneQuestion, contact, sealGapUm, opensAtLeastUm });
    expect(prove(tuneQuestion.watch).sureFromMs).toBe(Number.POSITIVE_INFINITY);
  });
});
