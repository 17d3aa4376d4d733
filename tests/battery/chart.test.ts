// The picture of a battery: well-formed, the same every time, and it shows what the answer says.
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import {
  batteryAnswer,
  currentText,
  lifeText,
  quietUse,
  shareText,
} from '../../src/battery/index.js';
import { batteryChart } from '../../src/chart/index.js';
import { codesIn, filesIn, ownFolder, runHere } from '../cli/run-here.js';
import { watchFileWith } from './supplies.js';

function drawn(supply: string, timelineName: string): string {
  const { watch, timing, supply: read } = watchFileWith(supply);
  if (read === null) throw new Error('there is a supply');
  const timelines = [{ file: 'x.yaml', name: timelineName, use: quietUse(watch, timing) }];
  const answer = batteryAnswer({ watch, timing, supply: read, timelines, measured: null });
  return batteryChart({ answer, file: 'watch.yaml' });
}

/** All text of a document. @throws when it is not XML. */
function textOf(xml: string): string {
  const parser = new SaxesParser();
  const texts: string[] = [];
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('text', (text) => texts.push(text));
  parser.write(xml).close();
  return texts.join('\n');
}

describe('the picture of a battery', () => {
  it('names every activity that takes something, and marks the interval that is set', () => {
    const svg = drawn(
      '{ preset: bare-board, capacity: 1200mAh }',
      'Delivery <day> & "night" \u0001',
    );
    const text = textOf(svg);
    expect(text).toContain('asleep');
    expect(text).toContain('self-discharge');
    expect(text).not.toContain('failed attempts');
    expect(text).toMatch(/as set: \d+ d/u);
    expect(text).toContain('Delivery <day> & "night"');
    expect(svg).toBe(
      drawn('{ preset: bare-board, capacity: 1200mAh }', 'Delivery <day> & "night" \u0001'),
    );
  });

  it('leaves the curve out where a charge outlasts a hundred years', () => {
    const text = textOf(drawn('{ capacity: 600mAh, sleepCurrent: 0uA }', 'Nothing drawn'));
    expect(text).not.toContain('by check interval');
    expect(text).toContain('over 100 years');
  });

  it('is written as the command is told, and never over its input', async () => {
    const watch = 'supply: { preset: tuned-board, capacity: 1Ah }\n';
    const folder = ownFolder({ 'watch.yaml': watch });
    const args = ['battery', '-c', 'watch.yaml', '--chart'];
    const { status, stdout } = await runHere(folder, [...args, 'battery.svg', '--dark']);
    expect(status).toBe(0);
    expect(stdout).toMatch(/Picture: battery\.svg\n$/u);
    expect(filesIn(folder)).toEqual(['battery.svg', 'watch.yaml']);
    for (const [name, code] of [
      ['watch.yaml', 'output-is-input'],
      ['battery.gif', 'unknown-picture'],
      ['-', 'output-is-stdout'],
    ] as const) {
      const ran = await runHere(folder, [...args, name]);
      expect([ran.status, codesIn(ran.stderr)]).toEqual([2, [code]]);
    }
  });
});

describe('quantities in words', () => {
  it('have three digits, and no more than matter', () => {
    expect([480, 73_333, 680_000, 48_000_000].map(currentText)).toEqual([
      '480 nA',
      '73.3 µA',
      '0.68 mA',
      '48 mA',
    ]);
    expect([0, 1, 500, 123_456].map(shareText)).toEqual([
      '0.0 %',
      'under 0.1 %',
      '0.1 %',
      '12.3 %',
    ]);
    const dayMs = 86_400_000;
    expect(
      [dayMs / 4, Math.round(9.7 * dayMs), 23 * dayMs, 2_337 * dayMs, null].map(lifeText),
    ).toEqual(['6 h', '9.7 d', '23 d (3.3 weeks)', '6.3 years', 'over 100 years by these numbers']);
  });
});
