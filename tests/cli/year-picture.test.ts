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

async function yearsOf(years: number, profile: string) {
  const folder = ownFolder({ 'watch.yaml': watch });
  const words = `year -c watch.yaml --profile ${profile} --years ${String(years)} --chart year.svg`;
  const ran = await runHere(folder, words.split(' '));
  expect(ran.status).toBe(0);
  const picture = takeApart(readFileSync(path.join(folder, 'year.svg'), 'utf8'));
  return { picture, text: ran.stdout };
}

async function drawnOf(years: number) {
  return (await yearsOf(years, 'seed-bank')).picture;
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

  it('shows each mean as the text does', async () => {
    // With this profile the means of 3 years have more than three figures, so that they are rounded.
    const { picture, text } = await yearsOf(3, 'flower-store');
    const texts = printed(picture);
    const means = Array.from(
      text.matchAll(/^ {2}(leave-opens|FALSE ALARMS) +\S+ in all, (?:about )?(\S+) per year/gmu),
      ([, name = '', mean = '']) => ({ name: name.toLowerCase(), mean }),
    );
    expect(means).toHaveLength(2);
    for (const { name, mean } of means) {
      const at = texts.indexOf(`${name === 'leave-opens' ? name : 'false alarms'} per year`);
      expect([texts[at - 1], texts[at + 1]]).toContain(mean);
    }
  });

  it('counts in the year where there is only one', async () => {
    const texts = printed(await drawnOf(1));
    for (const tile of tiles) expect(texts).toContain(`${tile} in the year`);
    expect(texts.some((text) => text.startsWith('Day by day, the simulated year:'))).toBe(true);
  });
});
