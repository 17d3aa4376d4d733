// Value change dumps, read back by a parser that is not ours. Format: IEEE 1364-2005, clause 18.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import VcdParser from 'vcd-parser';
import { describe, expect, it } from 'vitest';
import { costOf, useOf } from '../../src/battery/index.js';
import { valueChangeDump } from '../../src/chart/index.js';
import { parseScenario, parseWatchFile, timelineOf } from '../../src/scenarios/index.js';
import { compileWatch, simulate } from '../../src/sim/index.js';

const folder = 'scenarios';
const supply = 'supply: { preset: bare-board, capacity: 1200mAh }\n';
const tourWatch = `${readFileSync(path.join(folder, 'watch.yaml'), 'utf8')}\n${supply}`;
const holding = tourWatch.replace(
  '  wakeOn: timer',
  '  wakeOn: timer\n  afterAlert: hold-until-reset',
);

function ran(scenarioText: string, watchText: string) {
  const watch = parseWatchFile(watchText, 'watch.yaml');
  const scenario = parseScenario(scenarioText, 'scenario.yaml');
  if (!watch.ok || !scenario.ok) throw new Error('the files of this test are sound');
  const timeline = timelineOf(scenario.value, watch.value);
  if (!timeline.ok) throw new Error('the timeline of this test is sound');
  const { timing, world, seed } = timeline.value;
  const trace = simulate({ program: compileWatch(watch.value.watch), timing, world, seed });
  return { timeline: timeline.value, trace, watchFile: watch.value };
}

type Ran = ReturnType<typeof ran>;

function dumpOf(run: Ran): string {
  return [...valueChangeDump({ ...run, version: '0' })].join('');
}

type Waves = ReadonlyMap<string, readonly (readonly [number, string])[]>;

/** Read by a package: right, but too slow for long dumps. */
async function wavesOf(dump: string): Promise<Waves> {
  const { signal } = await VcdParser.parse(dump);
  return new Map(
    signal.map(({ name, wave }) => [
      name.replace(/^dozewatch\.|\[.*$/gu, ''),
      wave.map(([at, value]): [number, string] => [Number(at), value]),
    ]),
  );
}

/** Read strictly by the grammar of the standard: what it does not allow is an error. */
function strictWavesOf(dump: string): Waves {
  const [header = '', body = ''] = dump.split('$enddefinitions $end\n');
  const variable =
    /^\$var (?:wire|reg|real) \d+ (?<code>[!-~]+) (?<name>\w+)(?: \[\d+:0\])? \$end$/gmu;
  const waves = new Map<string, [number, string][]>();
  const byCode = new Map<string, [number, string][]>();
  for (const { groups } of header.matchAll(variable)) {
    const wave: [number, string][] = [];
    waves.set(groups?.['name'] ?? '', wave);
    byCode.set(groups?.['code'] ?? '', wave);
  }
  expect(waves.size).toBe(header.split('$var').length - 1);
  const change = /^(?:(?<bit>[01x])|b(?<bits>[01x]+) |r(?<real>-?[\d.e-]+) )(?<code>[!-~]+)$/u;
  let nowMs = -1;
  for (const line of body.trimEnd().split('\n')) {
    if (line === '$dumpvars' || line === '$end') continue;
    if (/^#\d+$/u.test(line)) {
      const atMs = Number(line.slice(1));
      if (atMs <= nowMs) throw new Error(`time goes back at ${line}`);
      nowMs = atMs;
      continue;
    }
    const { bit, bits, real, code = '' } = change.exec(line)?.groups ?? {};
    const wave = byCode.get(code);
    if (wave === undefined) throw new Error(`not a change of a known signal: ${line}`);
    wave.push([nowMs, bit ?? bits ?? real ?? '']);
  }
  return waves;
}

const rises = (wave: readonly (readonly [number, string])[] = []): number[] =>
  wave.filter(([, value]) => value === '1').map(([at]) => at);

describe('a value change dump', () => {
  const names = readdirSync(folder).filter((name) => /^\d.*\.yaml$/u.test(name));
  it.each(names)('tells of %s what its trace tells', (name) => {
    for (const watch of [tourWatch, holding]) {
      const run = ran(readFileSync(path.join(folder, name), 'utf8'), watch);
      const { trace, timeline, watchFile } = run;
      const { world } = timeline;
      const waves = strictWavesOf(dumpOf(run));
      expect(rises(waves.get('door'))).toEqual([...world.openings.fromMs]);
      expect(rises(waves.get('network_down'))).toEqual([...world.networkDown.fromMs]);
      expect(
        waves
          .get('contact')
          ?.slice(1)
          .map(([at]) => at),
      ).toEqual([...world.contact]);
      const decided = trace.alerts.map(({ decidedMs }) => decidedMs);
      expect(rises(waves.get('alert'))).toEqual(decided);
      expect(rises(waves.get('alert_pending'))).toEqual(decided);
      expect(waves.get('radio')?.filter(([, value]) => value === '1')).toHaveLength(
        Object.values(trace.tally.alertSends).reduce((sum, count) => sum + count, 0),
      );
      // A reset wakes a device that is awake already: that is no further rise.
      const wakes = Object.values(trace.tally.wakes).reduce((sum, count) => sum + count, 0);
      const awake = rises(waves.get('awake')).length;
      expect(awake).toBeLessThanOrEqual(wakes);
      expect(awake).toBeGreaterThanOrEqual(wakes - world.resetsMs.length);
      if (watchFile.supply === null) throw new Error('the watch of this test has a supply');
      const { chargeNah } = costOf(useOf(trace, world), watchFile.supply);
      expect(Number(waves.get('charge_used_mah')?.at(-1)?.[1])).toBe(chargeNah / 1e6);
    }
  });

  it('is read alike by a parser that is not ours', async () => {
    const names = [
      '06-power-loss-after-the-first-open-check.yaml',
      '09-reopened-within-the-cooldown.yaml',
    ];
    for (const name of names) {
      const dump = dumpOf(ran(readFileSync(path.join(folder, name), 'utf8'), tourWatch));
      expect(await wavesOf(dump)).toEqual(strictWavesOf(dump));
    }
  });

  it('forgets what is remembered while there is no power', () => {
    const text = readFileSync(
      path.join(folder, '06-power-loss-after-the-first-open-check.yaml'),
      'utf8',
    );
    const run = ran(text, tourWatch);
    const waves = strictWavesOf(dumpOf(run));
    const [lostMs] = run.timeline.world.powerLost.fromMs;
    expect(waves.get('recent_checks')?.find(([at]) => at === lostMs)?.[1]).toMatch(/^x+$/u);
  });

  it('cannot be ended by the words of its timeline', () => {
    const run = ran(readFileSync(path.join(folder, '01-calm-week.yaml'), 'utf8'), tourWatch);
    const hostile = { ...run.timeline, name: 'a $end\n$enddefinitions $end #5 1A' };
    expect(dumpOf({ ...run, timeline: hostile }).match(/\$enddefinitions/gu)).toHaveLength(1);
  });
});
