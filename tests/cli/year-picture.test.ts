// The picture of `year`: its figures are of all years, its strip is of one, and each of them says so.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { ofClass, printed, takeApart } from '../chart/drawn.js';
import { ownFolder, runHere } from './run-here.js';

const watch = `watch: { checkInterval: 4m, recheckInterval: 2m, escalationThreshold: 2 }
judge: { leaveOpenAfter: 8m }
supply: { preset: bare-board, capacity: 2400mAh }
answer: { charges: { every: 8w } }
`;

async function drawnOf(years: number) {
  const folder = ownFolder({ 'watch.yaml': watch });
  const words = `year -c watch.yaml --profile seed-bank --years ${String(years)} --chart year.svg`;
  const ran = await runHere(folder, words.split(' '));
  expect(ran.status).toBe(0);
  return takeApart(readFileSync(path.join(folder, 'year.svg'), 'utf8'));
}

const tiles = ['leave-opens', 'missed', 'false alarms', 'charges'];

describe('the picture of `year`', () => {
  it('says of every figure that it is a mean per year, and of the strip which year it is', async () => {
    const all = await drawnOf(3);
    const texts = printed(all);
    for (const tile of tiles) expect(texts).toContain(`${tile} per year`);
    const title = texts.find((text) => text.startsWith('Day by day')) ?? '';
    expect(title).toContain('the first of the 3 simulated years');
    // One mark in the legend, and one for each false alarm that the title counts.
    const marks = ofClass(all, 'm-false').length;
    expect(marks).toBeGreaterThan(1);
    expect(title).toMatch(new RegExp(`[ ,]${String(marks - 1)} false alarms?$`, 'u'));
  });

  it('counts in the year where there is only one', async () => {
    const texts = printed(await drawnOf(1));
    for (const tile of tiles) expect(texts).toContain(`${tile} in the year`);
    expect(texts.some((text) => text.startsWith('Day by day, the simulated year:'))).toBe(true);
  });
});
