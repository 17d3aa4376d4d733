// `dozewatch suite --against-mistakes`: what scenarios notice, show, miss, and never visit.
import { describe, expect, it } from 'vitest';
import { mutants } from '../../src/mutants/index.js';
import { ownFolder, runHere } from './run-here.js';
import { calmDay, exactWatch, missedDay, reportedDay } from './scenes.js';

const asked = ['suite', '.', '--against-mistakes'];
const told = `${reportedDay}expect: { missed: 0, alerts: 1, worstDelayAtMost: 150s }\n`;
/** Met whatever the watch does. */
const easy = `${reportedDay}expect: { openings: 1 }\n`;

async function outcomes(files: Readonly<Record<string, string>>): Promise<Map<string, string>> {
  const { stdout } = await runHere(ownFolder(files), [...asked, '--json']);
  const { faults } = JSON.parse(stdout).againstMistakes;
  return new Map(faults.map((one: { name: string; outcome: string }) => [one.name, one.outcome]));
}

describe('a fault', () => {
  it('is noticed by an expectation that the sound watch meets and the faulty one does not', async () => {
    const found = await outcomes({ 'watch.yaml': exactWatch, 'a.yaml': told });
    expect(found.size).toBe(mutants.length);
    expect(found.get('threshold-one-more')).toBe('noticed');
    expect(found.get('cooldown-not-retained')).toBe('noticed');
    expect(found.get('alert-never-retried')).toBe('unnoticed');
    expect(found.get('sleep-overflow')).toBe('no-difference');
  });

  it('is only shown where the verdict is another and nobody expects otherwise', async () => {
    const found = await outcomes({ 'watch.yaml': exactWatch, 'a.yaml': easy });
    expect(found.get('threshold-one-more')).toBe('shown-only');
  });

  it('is noticed once the scenario that shows it has the expectation that the report names', async () => {
    const shows: Readonly<Record<string, string>> = {
      open: reportedDay,
      brief: missedDay.replace('190s', '250s'),
      outage: `${reportedDay}network: [{ down: +290s, for: 5m }]\n`,
      again: reportedDay.replace('door: [', 'door: [{ at: +45m, for: 10m }, '),
    };
    const folderOf = (scenario: string, expected: string): Readonly<Record<string, string>> => ({
      'watch.yaml': exactWatch,
      'a.yaml': `${scenario}expect: { ${expected} }\n`,
    });
    const kinds = new Set<string>();
    for (const scenario of Object.values(shows)) {
      const weak = await runHere(ownFolder(folderOf(scenario, 'openings: { atLeast: 1 }')), [
        ...asked,
        '--json',
      ]);
      const faults: { name: string; add: string | null }[] = JSON.parse(weak.stdout).againstMistakes
        .faults;
      const adds = new Set(faults.flatMap(({ add }) => (add === null ? [] : [add])));
      for (const add of adds) {
        kinds.add(add.split(':', 1)[0] ?? '');
        const found = await outcomes(folderOf(scenario, add));
        const meant = faults.filter((fault) => fault.add === add).map(({ name }) => name);
        expect(
          meant.filter((name) => found.get(name) !== 'noticed'),
          add,
        ).toEqual([]);
      }
    }
    expect(kinds.size).toBeGreaterThan(3);
  });

  it('is noticed by an expectation that the watch meets with every value of its ranges', async () => {
    const ranged = exactWatch.replace(
      'connectTime: 0ms',
      'connectTime: 2s..6s, clockError: -1%..1%',
    );
    const shows = [reportedDay, reportedDay.replace('door: [', 'door: [{ at: +45m, for: 10m }, ')];
    let tried = 0;
    for (const scenario of shows) {
      const of = (expected: string, seed: number) => ({
        ...{
          'watch.yaml': ranged,
          'a.yaml': `${scenario}seed: "${String(seed)}"\nexpect: { ${expected} }\n`,
        },
      });
      const weak = await runHere(ownFolder(of('openings: { atLeast: 1 }', 1)), [
        ...asked,
        '--json',
      ]);
      const faults: { name: string; add: string | null }[] = JSON.parse(weak.stdout).againstMistakes
        .faults;
      for (const add of new Set(faults.flatMap((one) => one.add ?? []))) {
        tried += 1;
        for (const seed of [1, 2, 3, 4, 5]) {
          const { status } = await runHere(ownFolder(of(add, seed)), ['suite', '.']);
          expect({ add, seed, status }).toEqual({ add, seed, status: 0 });
        }
        const found = await outcomes(of(add, 1));
        const meant = faults.filter((fault) => fault.add === add).map(({ name }) => name);
        expect(meant.filter((name) => found.get(name) !== 'noticed')).toEqual([]);
      }
    }
    expect(tried).toBeGreaterThan(3);
  });

  it('is noticed by the promise that a scenario without expectations must meet', async () => {
    const found = await outcomes({ 'watch.yaml': exactWatch, 'a.yaml': reportedDay });
    expect(found.get('open-checks-not-retained')).toBe('noticed');
    expect(found.get('threshold-one-less')).toBe('shown-only');
  });

  it('is not asked of a scenario that is not met, or cannot be read', async () => {
    const files = { 'watch.yaml': exactWatch, 'a.yaml': missedDay, 'b.yaml': 'nmae: x\n' };
    const { stdout } = await runHere(ownFolder(files), [...asked, '--json']);
    const { faults, leftOut } = JSON.parse(stdout).againstMistakes;
    expect(leftOut).toBe(2);
    expect(faults.map(({ outcome }: { outcome: string }) => outcome)).not.toContain('noticed');
  });

  it('is not to be hunted before every scenario passes: the failing one comes first', async () => {
    const nextOf = async (more: Readonly<Record<string, string>>): Promise<string[]> => {
      const files = { 'watch.yaml': exactWatch, 'a.yaml': told, ...more };
      const { stdout } = await runHere(ownFolder(files), asked);
      return [...stdout.matchAll(/^Next: .*dozewatch (?<command>\w+)/gmu)].map(
        ({ groups }) => groups?.['command'] ?? '',
      );
    };
    expect(await nextOf({})).toEqual(['hunt']);
    expect(await nextOf({ 'b.yaml': missedDay })).toEqual(['replay']);
  });

  it('makes a difference where it does so in one of several watches', async () => {
    const edges = exactWatch.replace('watch: {', 'watch: { wakeOn: opening,');
    const files = {
      'watch.yaml': exactWatch,
      'a.yaml': told,
      'b/watch.yaml': edges,
      'b/c.yaml': calmDay,
    };
    const found = await outcomes(files);
    expect(found.get('edges-not-armed')).toBe('unnoticed');
    expect(
      (await outcomes({ 'watch.yaml': exactWatch, 'a.yaml': told })).get('edges-not-armed'),
    ).toBe('no-difference');
  });
});

describe('the report', () => {
  it('keeps within a terminal, but for the command line to copy', async () => {
    const files = { 'watch.yaml': exactWatch, 'a.yaml': told, 'b.yaml': easy };
    const { stdout } = await runHere(ownFolder(files), asked, { terminalColumns: 72 });
    const unpainted = stdout.replaceAll(/\u001b\[\d+m/gu, '');
    const lines = unpainted.split('\n').filter((line) => !line.includes('dozewatch hunt'));
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(72);
  });

  it('leaves the status to the expectations', async () => {
    const failing = `${missedDay}expect: { missed: 0 }\n`;
    const { status } = await runHere(
      ownFolder({ 'watch.yaml': exactWatch, 'a.yaml': failing }),
      asked,
    );
    expect(status).toBe(1);
  });

  it('lists all states and transitions in JSON, and nothing of it when it was not asked for', async () => {
    const folder = ownFolder({ 'watch.yaml': exactWatch, 'a.yaml': told });
    const { stdout } = await runHere(folder, [...asked, '--json']);
    const { watches, leftOut } = JSON.parse(stdout).againstMistakes;
    expect(leftOut).toBe(0);
    expect(watches).toHaveLength(1);
    const [{ file, states, transitions, statesNeverVisited, transitionsNeverTaken }] = watches;
    expect(file).toBe('watch.yaml');
    expect(statesNeverVisited.length).toBeLessThan(states);
    expect(transitionsNeverTaken.length).toBeLessThan(transitions);
    const plain = await runHere(folder, ['suite', '.', '--json']);
    expect(Object.keys(JSON.parse(plain.stdout))).not.toContain('againstMistakes');
  });
});

describe('the scenarios that are shipped', () => {
  it('are all met, and together notice every mistake that makes a difference in their watches', async () => {
    const { status, stdout } = await runHere(process.cwd(), [
      'suite',
      'scenarios',
      '--against-mistakes',
      '--json',
    ]);
    expect(status).toBe(0);
    const { faults, leftOut } = JSON.parse(stdout).againstMistakes;
    expect(leftOut).toBe(0);
    // Scenarios of a day show no mistake that waits for longer, and none hits a send with a reset.
    const within = mutants
      .filter(({ showsAfterMs, beyondHands }) => showsAfterMs === undefined && !beyondHands)
      .map(({ name }) => name);
    const unnoticed = faults.filter(
      ({ name, outcome }: { name: string; outcome: string }) =>
        within.includes(name) && ['unnoticed', 'shown-only'].includes(outcome),
    );
    expect(unnoticed).toEqual([]);
  });
});
