// Random scenarios as text: door, ajar and creeping doors, outages, power losses, resets, stuck and chattering
// contacts, temperatures, a late power-on, a device that differs from its file, each there or not.
import { Document } from 'yaml';
import { type Draw, drawFrom } from './draw.js';
import { durationWords, gapWords, ppmWords, styled, written } from './notation.js';
import { opensAtLeastUmOf } from './watch-texts.js';

/** The scenario of a case: always one that can be read. The same seed and index give the same text. */
export function scenarioTextOf(seed: string, index: number): string {
  const draw = drawFrom(seed, 'scenario', index);
  const lengthMs = draw.pick([3_600_000, 14_400_000, 86_400_000, 86_400_000, 259_200_000]);
  const leastGapUm = opensAtLeastUmOf(seed, index) ?? 0;
  const root = written(scenarioRoot(draw, lengthMs, leastGapUm), draw);
  return styled(new Document(root, { version: '1.2' }), draw);
}

const openForMs = [
  1, 999, 5_000, 20_000, 45_000, 59_999, 60_000, 90_000, 119_999, 120_400, 180_000, 240_800,
  299_999, 300_000, 420_000, 600_000, 1_200_000, 3_600_000,
];

function scenarioRoot(draw: Draw, lengthMs: number, leastGapUm: number): object {
  const isGenerated = draw.chance(0.1);
  return {
    name: draw.pick([
      'A morning at the flower store',
      'Wind at the goose-house hatch',
      'Drying room',
    ]),
    start: draw.maybe(0.5, () =>
      draw.pick([
        '2026-05-08T06:00:00+02:00',
        '2026-10-24T12:00[Europe/Lisbon]',
        '2026-02-27T23:00:00Z',
      ]),
    ),
    length: durationWords(lengthMs, draw),
    powerOnAt: draw.maybe(0.3, () => instant(draw, draw.whole(0, Math.floor(lengthMs / 10)))),
    door: draw.maybe(0.95, () => doorEntries(draw, lengthMs, leastGapUm)),
    generate: isGenerated
      ? {
          profile: draw.pick(['flower-store', 'goose-house', 'seed-bank']),
          seed: draw.maybe(0.5, () => 'sixth'),
        }
      : undefined,
    network: draw.maybe(0.4, () => stretches(draw, lengthMs, 'down', 3)),
    power: draw.maybe(0.3, () => stretches(draw, lengthMs, 'lost', 2)),
    resets: draw.maybe(0.3, () =>
      distinct(draw, draw.whole(1, 4), lengthMs - 1).map((ms) =>
        draw.chance(0.6)
          ? instant(draw, ms)
          : { at: instant(draw, ms), kind: draw.pick(['button', 'watchdog', 'software']) },
      ),
    ),
    contact: draw.maybe(0.3, () => contactEntries(draw, lengthMs)),
    temperature: draw.maybe(0.2, () =>
      distinct(draw, draw.whole(1, 4), lengthMs - 1).map((ms) => ({
        at: instant(draw, ms),
        celsius: draw.pick([-20, 4, 8.5, 25, 38]),
      })),
    ),
    environment: draw.maybe(0.2, () => ({
      bootTime: draw.maybe(0.5, () => times(draw, [0, 120, 400, 1_500])),
      connectTime: draw.maybe(0.5, () => times(draw, [0, 900, 4_000, 8_500])),
      clockError: draw.maybe(0.5, () => clock(draw)),
    })),
    seed: draw.maybe(0.3, () => draw.pick([7, 'wagtail', 41])),
  };
}

/** A duration after the start, always exact. */
export function instant(draw: Draw, ms: number): string {
  return ms === 0 && draw.chance(0.5) ? 'start' : `+${durationWords(ms, draw)}`;
}

function distinct(draw: Draw, count: number, most: number): readonly number[] {
  const found = new Set<number>();
  for (let tries = 0; tries < count; tries += 1) found.add(draw.whole(0, most));
  return [...found].sort((a, b) => a - b);
}

function times(draw: Draw, usual: readonly number[]): unknown {
  const words = (ms: number): string => durationWords(ms, draw);
  const [one, other] = [draw.pick(usual), draw.pick(usual)];
  return draw.pick<unknown>([
    words(one),
    { min: words(Math.min(one, other)), max: words(Math.max(one, other)) },
    [words(one), words(other), words(one)],
  ]);
}

function clock(draw: Draw): unknown {
  const error = (): number => draw.pick([0, 20_000, -20_000, 50_000, -150]);
  const [one, other] = [error(), error()];
  return draw.pick<unknown>([
    ppmWords(one, draw),
    { min: ppmWords(Math.min(one, other), draw), max: ppmWords(Math.max(one, other), draw) },
    [ppmWords(one, draw), ppmWords(other, draw)],
    { sleeps: [durationWords(draw.whole(10, 200_000), draw), durationWords(118_000, draw)] },
  ]);
}

/** Openings one after the other, some of which touch. */
function doorEntries(draw: Draw, lengthMs: number, leastGapUm: number): readonly unknown[] {
  const entries: unknown[] = [];
  let atMs = draw.whole(0, Math.floor(lengthMs / 6));
  for (let left = draw.whole(1, 12); left > 0 && atMs < lengthMs; left -= 1) {
    const forMs = draw.pick(openForMs) + draw.pick([0, 0, 1, -1, draw.whole(0, 60_000)]);
    const untilEnd = draw.chance(0.05);
    entries.push(opening(draw, { atMs, forMs: Math.max(1, forMs), untilEnd, leastGapUm }));
    if (untilEnd) break;
    atMs += Math.max(1, forMs) + draw.pick([0, 1, 500, 30_000, 600_000, draw.whole(0, 7_200_000)]);
  }
  return entries;
}

function opening(
  draw: Draw,
  on: {
    readonly atMs: number;
    readonly forMs: number;
    readonly untilEnd: boolean;
    readonly leastGapUm: number;
  },
): unknown {
  const at = instant(draw, on.atMs);
  const length = durationWords(on.forMs, draw);
  const gaps = [1_000, 3_000, 6_000, 9_000, 15_000, 60_000].filter((um) => um >= on.leastGapUm);
  const gap = draw.maybe(0.25, () => gapWords(draw.pick(gaps), draw));
  if (!on.untilEnd && draw.chance(0.4) && !at.includes(' ') && at !== 'start') {
    return `at ${at} for ${length}${gap === undefined ? '' : ` ${draw.pick(['ajar', 'creeping to'])} ${gap}`}`;
  }
  return {
    at,
    for: on.untilEnd ? undefined : length,
    until: on.untilEnd ? 'end' : undefined,
    gap,
    approach:
      gap === undefined ? undefined : draw.maybe(0.4, () => draw.pick(['closing', 'creeping'])),
    note: draw.maybe(0.1, () => 'wedged for the trolleys'),
  };
}

function stretches(draw: Draw, lengthMs: number, key: string, most: number): readonly unknown[] {
  return distinct(draw, draw.whole(1, most), lengthMs - 1).map((atMs) => ({
    [key]: instant(draw, atMs),
    ...(draw.chance(0.05)
      ? { until: 'end' }
      : { for: durationWords(draw.pick([1, 1_000, 60_000, 600_000, 3_600_000]), draw) }),
  }));
}

function contactEntries(draw: Draw, lengthMs: number): readonly unknown[] {
  const entries: unknown[] = [];
  let atMs = draw.whole(0, lengthMs - 1);
  for (let left = draw.whole(1, 3); left > 0 && atMs < lengthMs; left -= 1) {
    const forMs = draw.pick([1, 5_000, 60_000, 600_000]);
    const at = { at: instant(draw, atMs), for: durationWords(forMs, draw) };
    entries.push(
      draw.chance(0.5)
        ? { stuck: draw.pick(['open', 'shut']), ...at }
        : {
            chattering: true,
            ...at,
            openShare: draw.maybe(0.5, () => draw.pick(['20%', '75%', '100%'])),
            every: draw.maybe(0.5, () => durationWords(draw.pick([20, 1_000, 7_000]), draw)),
          },
    );
    atMs += forMs + draw.whole(0, 3_600_000);
  }
  return entries;
}
