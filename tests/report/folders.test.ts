// What is made to be shared names files, and not where they lay on the machine that made it.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { gunzipSync } from 'node:zlib';
import { expect, it } from 'vitest';
import { ownFolder, runHere } from '../cli/run-here.js';

const watch =
  'watch: { checkInterval: 2m }\njudge: { leaveOpenAfter: 5m }\nsupply: { preset: bare-board, capacity: 1200mAh }\n';
const day = 'name: A day\ndoor:\n  - at 07:10 for 22m\n';
const log = Array.from(
  { length: 40 },
  (_, index) =>
    `2026-05-${String(1 + (index % 28)).padStart(2, '0')}T${String(index % 24).padStart(2, '0')}:10:00Z,${String(20 + index)}s`,
)
  .sort()
  .join('\n');

/** All of a file, and of what is packed in it. */
function unpacked(text: string): string {
  const packed = text.match(/[A-Za-z0-9+/=]{200,}/gu) ?? [];
  const parts = packed.map((part) => {
    const bytes = Buffer.from(part, 'base64');
    return bytes[0] === 0x1f && bytes[1] === 0x8b ? gunzipSync(bytes).toString('utf8') : '';
  });
  return text + parts.join('');
}

it.each([
  ['report DAY -c WATCH -o out.html', 'out.html'],
  ['chart DAY -c WATCH -o out.html', 'out.html'],
  ['chart DAY -c WATCH -o out.svg', 'out.svg'],
  ['planner DAY -c WATCH -o out.html', 'out.html'],
  ['drill -c WATCH --short --without reset,network,power -o out.html', 'out.html'],
  ['bounds -c WATCH --chart bounds.svg --sheet out.svg', 'out.svg'],
  ['battery DAY -c WATCH --chart out.svg', 'out.svg'],
  ['estimate -c WATCH --profile-from LOG --years 1 --chart out.svg', 'out.svg'],
  ['year -c WATCH --profile-from LOG --years 1 --chart out.svg', 'out.svg'],
  ['emit diagram -c WATCH -o out.svg', 'out.svg'],
])('%s keeps its folders to itself', async (line, output) => {
  const folder = ownFolder();
  const hidden = path.join(folder, 'a folder of its owner');
  mkdirSync(hidden);
  const files = { WATCH: 'hatch.yaml', DAY: 'day.yaml', LOG: 'log.csv' } as const;
  const texts = { WATCH: watch, DAY: day, LOG: `start,duration\n${log}\n` } as const;
  for (const name of ['WATCH', 'DAY', 'LOG'] as const) {
    writeFileSync(path.join(hidden, files[name]), texts[name]);
  }
  const args = line
    .split(' ')
    .map((word) =>
      word === 'WATCH' || word === 'DAY' || word === 'LOG' ? path.join(hidden, files[word]) : word,
    );
  const ran = await runHere(folder, args);
  expect(ran.status, ran.stderr).toBeLessThan(2);
  const made = unpacked(readFileSync(path.join(folder, output), 'utf8'));
  expect(made).not.toContain('a folder of its owner');
  expect(made).not.toContain(folder);
});
