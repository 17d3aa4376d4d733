// Letters of pictures: the package's font, the machine's where that one lacks a letter, and a warning where none has it.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { pngOf } from '../../src/cli/host/png.js';
import { codesIn, ownFolder, runHere } from './run-here.js';

const svgOf = (words: string) =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="200" height="30"><text x="5" y="20" font-family="Inter">${words}</text></svg>`;

/** Unicode has assigned no letter to it. */
const unassigned = '\u0378';

describe('a PNG', () => {
  it('needs no font of the machine for Latin, Greek, Cyrillic and the signs of the pictures', async () => {
    const { missing } = await pngOf(svgOf('Tür ñandú Łódź Ωmega Живот ≥ … → · − ↺ × °'));
    expect(missing).toEqual([]);
  });

  it('names the letters that no font has, each once, and draws a sign in their place', async () => {
    const { picture, missing } = await pngOf(svgOf(`Tür ${unassigned}${unassigned}`));
    expect(missing).toEqual([unassigned]);
    const other = await pngOf(svgOf('Tür □□'));
    expect(Buffer.from(picture).equals(Buffer.from(other.picture))).toBe(true);
  });

  it('of a chart comes with a warning about such letters', async () => {
    const folder = ownFolder({
      'day.yaml': `name: "Hatch ${unassigned}"\nlength: 1h\ndoor: [{ at: +10m, for: 20m }]\n`,
    });
    const { status, stderr } = await runHere(folder, ['chart', 'day.yaml', '-o', 'day.png']);
    expect(status).toBe(0);
    expect(codesIn(stderr)).toEqual(['letters-without-font']);
    expect(readFileSync(path.join(folder, 'day.png')).subarray(1, 4).toString()).toBe('PNG');
  });
});
