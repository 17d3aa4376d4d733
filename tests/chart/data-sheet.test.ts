// The data sheet: one page of A4, whose code an independent reader of codes (jsqr 1.4.0) reads back, and the planner too.
import jsqr from 'jsqr';
import { describe, expect, it } from 'vitest';
import { boundsOf, questionOf } from '../../src/bounds/index.js';
import { dataSheet } from '../../src/chart/index.js';
import { readLink, readSettingsText, settingsText } from '../../src/planner/index.js';
import { parseWatchFile } from '../../src/scenarios/index.js';
import { compileWatch } from '../../src/sim/index.js';

const set = {
  'watch.checkInterval': '150s',
  'judge.leaveOpenAfter': '6m',
  'device.clockError': '-2%..2%',
};

function sheetOf(settings: string): string {
  const read = parseWatchFile(
    '{ watch: { checkInterval: 150s }, judge: { leaveOpenAfter: 6m } }',
    'w.yaml',
  );
  if (!read.ok) throw new Error('the watch file is sound');
  const { table } = compileWatch(read.value.watch);
  const bounds = boundsOf(questionOf(read.value, { table, ownLogic: false }));
  return dataSheet({
    bounds,
    watchFile: read.value,
    file: 'w.yaml',
    settings,
    isLink: false,
    version: '0',
  });
}

/** What a camera would see: four pixels a module. */
function pixelsOf(svg: string): { readonly data: Uint8ClampedArray; readonly size: number } {
  const size = 4 * Number(/width="(\d+)" height="\1" fill="#fff"/u.exec(svg)?.[1]);
  const path = /<path d="([^"]*)" fill="#000"/u.exec(svg)?.[1] ?? '';
  const data = new Uint8ClampedArray(size * size * 4).fill(255);
  for (const [, x, y, length] of path.matchAll(/M(\d+) (\d+)h(\d+)v1/gu)) {
    for (let row = 4 * Number(y); row < 4 * Number(y) + 4; row += 1) {
      const from = 4 * (row * size + 4 * Number(x));
      for (let at = from; at < from + 16 * Number(length); at += 1) if (at % 4 !== 3) data[at] = 0;
    }
  }
  return { data, size };
}

describe('the data sheet', () => {
  it('is as large as a page of A4, and its code reads back as its text', () => {
    for (const text of [
      settingsText(set),
      `https://example.org/planner.html#${settingsText(set)}`,
    ]) {
      const svg = sheetOf(text);
      expect(svg).toContain('width="794" height="1123"');
      const { data, size } = pixelsOf(svg);
      expect(jsqr.default(data, size, size)?.data).toBe(text);
      expect(readSettingsText(text)).toMatchObject({ ok: true, value: set });
      expect(readLink(`#${text.replace(/^[^#]*#/u, '')}`)).toMatchObject({ state: { set } });
    }
  });

  it('leaves out what holds anyway, and notices a text that lost or changed a letter', () => {
    expect(settingsText({ 'watch.checkInterval': '2m', 'watch.alertCooldown': '30m' })).toMatch(
      /^~\w{6}$/u,
    );
    const text = settingsText(set);
    expect(readSettingsText(`${text}).`)).toMatchObject({ ok: true });
    // Without the mark before its checksum a text is still whole.
    for (let at = 0; at < text.lastIndexOf('&'); at += 1) {
      expect(readSettingsText(text.slice(0, at) + text.slice(at + 1)).ok, String(at)).toBe(false);
    }
    expect(readSettingsText(text.replace('150', '160')).ok).toBe(false);
    expect(readLink(`#${text.slice(0, -3)}`)).toMatchObject({ kind: 'refused' });
  });
});
