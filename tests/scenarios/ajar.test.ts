import { describe, expect, it } from 'vitest';
import { readsOpenAt } from '../../src/world/index.js';
import { doorOf, hour, minute, pairs, timeline } from './days.js';

describe('a door that stands ajar', () => {
  const contact = 'contact: { operateGap: 8mm, releaseGap: 12mm, bounceTime: 0ms }\n';
  const readsAt = (entry: string, watch = contact): boolean =>
    readsOpenAt(timeline(doorOf(entry), watch).world.contact, hour + 1);

  // A contact shuts at its operate gap and opens beyond its release gap: in between, it reads where it came from.
  it.each([
    ['at 07:00 for 1m ajar 7.5mm', false],
    ['at 07:00 for 1m ajar 8mm', false],
    ['at 07:00 for 1m ajar 10mm', true],
    ['at 07:00 for 1m ajar 13mm', true],
    ['at 07:00 for 1m closing to 10mm', true],
    ['at 07:00 for 1m creeping to 10mm', false],
    ['at 07:00 for 1m creeping to 12mm', false],
    ['at 07:00 for 1m creeping to 12.001mm', true],
    ['at 07:00 for 1m', true],
  ])('reads by where it came from: %s', (entry, expected) => {
    expect(readsAt(entry)).toBe(expected);
  });

  it('is open to an ideal contact as soon as it leaves its seal', () => {
    expect(readsAt('at 07:00 for 1m creeping to 3mm', 'door: { sealGap: 2mm }')).toBe(true);
  });

  it('is open all the same, whatever the contact reads', () => {
    const day = timeline(doorOf('at 07:00 for 1m creeping to 10mm'), contact);
    expect(pairs(day)).toEqual([[hour, hour + minute]]);
    expect(day.moves).toEqual([
      { atMs: hour, gapUm: 10_000 },
      { atMs: hour + minute, gapUm: 0 },
    ]);
  });

  it('counts as shut within its seal, and that is said', () => {
    const day = timeline(doorOf('at 07:00 for 1m ajar 2mm'), 'door: { sealGap: 2mm }');
    expect(pairs(day)).toEqual([]);
    expect(day.remarks).toMatchObject([{ code: 'gap-seals', source: { line: 4, column: 5 } }]);
  });

  it('bounces where the watch file says so', () => {
    const bouncing = 'contact: { operateGap: 8mm, releaseGap: 12mm, bounceTime: 3ms }';
    const { contact: edges } = timeline(doorOf('at 07:00 for 1m'), bouncing).world;
    expect([...edges].slice(0, 3)).toEqual([hour, hour + 1, hour + 2]);
  });
});
