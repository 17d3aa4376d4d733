// Contacts that read open though the door seals: reported for each way the door may come to such a gap.
import { describe, expect, it } from 'vitest';
import { boundsOf, questionOf } from '../../src/bounds/index.js';
import { parseScenario, parseWatchFile, timelineOf } from '../../src/scenarios/index.js';
import { compileWatch, simulate } from '../../src/sim/index.js';
import { judge } from '../../src/verdict/index.js';
import { valueOf } from '../scenarios/reading.js';

function watchOf(contact: string) {
  return valueOf(
    parseWatchFile(`contact: { ${contact} }\ndoor: { sealGap: 10mm }\n`, 'watch.yaml'),
  );
}

function eager(contact: string): string | null {
  const { findings } = boundsOf(questionOf(watchOf(contact)));
  return findings.find(({ code }) => code === 'eager-contact')?.sentence ?? null;
}

/** Alerts about a door that is left at a gap at which it seals. */
function falseAlarms(contact: string, door: string): number {
  const watchFile = watchOf(contact);
  const scenario = valueOf(parseScenario(`name: x\nlength: 2h\ndoor: [{ ${door} }]\n`, 'x.yaml'));
  const { world, timing, seed } = valueOf(timelineOf(scenario, watchFile));
  const experiment = { program: compileWatch(watchFile.watch), timing, world, seed };
  const trace = simulate(experiment, { record: 'none' });
  return judge(world.openings, trace, watchFile.judge).summary.falseAlarms;
}

describe('a contact that reads open though the door seals', () => {
  it('is reported where the door closes onto such a gap and causes alerts', () => {
    const contact = 'operateGap: 8mm, releaseGap: 12mm';
    expect(eager(contact)).toMatch(/: a door that closes on a gap over 8 mm and up to 10 mm$/u);
    expect(falseAlarms(contact, 'at: +1h, for: 30m, gap: 10mm')).toBeGreaterThan(0);
    expect(falseAlarms(contact, 'at: +1h, for: 30m, gap: 8mm')).toBe(0);
  });

  it('is also reported where the door creeps open', () => {
    const sentence = eager('operateGap: 4mm, releaseGap: 6mm');
    expect(sentence).toContain('closes on a gap over 4 mm and up to 10 mm');
    expect(sentence).toContain('creeps open to a gap over 6 mm and up to 10 mm');
  });

  it('is not reported where it reads shut up to the seal gap', () => {
    const contact = 'operateGap: 10mm, releaseGap: 12mm';
    expect(eager(contact)).toBeNull();
    expect(falseAlarms(contact, 'at: +1h, for: 30m, gap: 10mm')).toBe(0);
  });
});
