// What a remedy is said to cost is what the other commands compute for the file with the remedy in it: the life of `battery`,
// the quiet of `bounds`, and alerts as a run of a door that stays open shows them.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { batteryAnswer } from '../../src/battery/index.js';
import { boundsOf, detectionBounds, questionOf } from '../../src/bounds/index.js';
import { parseWatchFile, type WatchFile, watchWarnings } from '../../src/scenarios/index.js';
import { compileWatch, simulate } from '../../src/sim/index.js';
import { priceText } from '../../src/wording/index.js';
import { deviceTiming, idealContactEdges, noSpans, spansOf } from '../../src/world/index.js';

interface Drawn {
  readonly watch: Readonly<Record<string, string>>;
  readonly leaveOpenAfter: string;
}

const drawn: fc.Arbitrary<Drawn> = fc.record({
  watch: fc.record({
    checkInterval: fc.constantFrom('1m', '3m', '10m'),
    escalationThreshold: fc.constantFrom('1', '2', '3'),
    alertCooldown: fc.constantFrom('5m', '30m'),
    afterAlert: fc.constantFrom('keep-watching', 'keep-watching', 'hold-until-reset'),
  }),
  leaveOpenAfter: fc.constantFrom('3m', '5m', '12m'),
});

function fileOf({ watch, leaveOpenAfter }: Drawn): WatchFile {
  const settings = Object.entries(watch).map(([key, value]) => `  ${key}: ${value}\n`);
  const sections = `judge: { leaveOpenAfter: ${leaveOpenAfter} }\nsupply: { preset: bare-board, capacity: 1200mAh }\n`;
  const parsed = parseWatchFile(`watch:\n${settings.join('')}${sections}`, 'watch.yaml');
  if (!parsed.ok) throw new Error(parsed.errors[0]?.message);
  return parsed.value;
}

function lifeMs({ watch, timing, supply }: WatchFile): number | null {
  if (supply === null) throw new Error('the file has a supply');
  return batteryAnswer({ watch, timing, supply, timelines: [], measured: null }).quiet.lifeMs;
}

/** From the fourth alert to the fifth at a door that stays open for four days; null: there is only one. */
function repeatMs({ watch, timing }: WatchFile): number | null {
  const lengthMs = 4 * 86_400_000;
  const openings = spansOf([[0, lengthMs]]);
  const world = {
    lengthMs: trueMs(lengthMs),
    openings,
    contact: idealContactEdges(openings),
    networkDown: noSpans,
    powerLost: noSpans,
    resetsMs: new Float64Array(0),
    powerOnAtMs: trueMs(0),
  };
  const program = compileWatch(watch);
  const experiment = { program, timing: deviceTiming({}, timing), world, seed: 'x' };
  const { alerts } = simulate(experiment, { record: 'all' });
  const [fourth, fifth] = alerts.slice(3, 5);
  return fourth === undefined || fifth === undefined ? null : fifth.decidedMs - fourth.decidedMs;
}

it('alerts repeat as often as those of a device whose times lie at the middle of their ranges', () => {
  // Rechecks every 4 min, 0.4 s to boot, 6 s to send: from the send on, the cooldown of 20 min is over at the fifth check after it.
  const file = (device: string): WatchFile => {
    const text = `watch: { checkInterval: 5m, alertCooldown: 20m, escalationThreshold: 1 }\ndevice: ${device}\njudge: { leaveOpenAfter: 2m }\n`;
    const parsed = parseWatchFile(text, 'watch.yaml');
    if (!parsed.ok) throw new Error(parsed.errors[0]?.message);
    return parsed.value;
  };
  const ranges = file('{ bootTime: 300ms..500ms, connectTime: 3s..9s, clockError: -2%..2% }');
  const { remedies } = boundsOf(questionOf(ranges));
  expect(remedies.length).toBeGreaterThan(0);
  // Four sleeps and boots and one send.
  for (const { price } of remedies) {
    expect(price.repeatsEveryMs.now).toBe(4 * (300_000 + 400) + 6_000);
  }
});

it('the price of a remedy is what battery, bounds and a run say of the file with the remedy in it', () => {
  const seen = { remedies: 0, worse: 0 };
  fc.assert(
    fc.property(drawn, (one) => {
      const file = fileOf(one);
      const found = boundsOf(questionOf(file));
      for (const remedy of found.remedies) {
        const { changes, price } = remedy;
        const written = Object.fromEntries(changes.map(({ key, value }) => [key, value]));
        const remedied = fileOf({ ...one, watch: { ...one.watch, ...written } });
        expect(price.lifeMs).toEqual({ now: lifeMs(file), then: lifeMs(remedied), cellsNah: null });
        const quiet = detectionBounds(questionOf(remedied)).neverAlarmedUpToMs;
        expect(price.quietUpToMs).toEqual({ now: found.neverAlarmedUpToMs, then: quiet });
        expect(price.repeatsEveryMs).toEqual({ now: repeatMs(file), then: repeatMs(remedied) });
        const before = new Set(watchWarnings(file).map(({ code }) => code));
        const text = priceText(remedy, file) ?? '';
        for (const { code, message } of watchWarnings(remedied)) {
          if (!before.has(code)) expect(text).toContain(message);
        }
        seen.remedies += 1;
        seen.worse += price.muchWorse.length > 0 ? 1 : 0;
      }
      const worse = found.remedies.map(({ price }) => price.muchWorse.length > 0);
      expect(worse).toEqual(worse.toSorted((a, b) => Number(a) - Number(b)));
      const [first] = found.remedies;
      if (first !== undefined && first.price.muchWorse.length > 0) {
        expect(found.advice).toContain('(prices below)');
        expect(priceText(first, file)).not.toBe(null);
      }
    }),
    { numRuns: 8 },
  );
  expect(seen.remedies).toBeGreaterThan(5);
  expect(seen.worse).toBeGreaterThan(0);
});
