// Where it takes too long to judge every phase of the checks, a page and an estimate say so, and name the command that does:
// with the file, the watch and the options that were typed.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { ownFolder, runHere } from './run-here.js';

const days = Array.from({ length: 28 }, (_, index) => String(index + 1).padStart(2, '0'));
// The charge ends within the log: then each phase is a run of its own, and there are 300,000.
const files = {
  'the doors.csv': `start,duration\n${days.map((day) => `2026-05-${day}T08:10:00,${day}m\n2026-05-${day}T10:10:00,20s`).join('\n')}\n`,
  'hatch.yaml':
    'watch: { checkInterval: 5m }\njudge: { leaveOpenAfter: 10m }\nsupply: { capacity: 2mAh, sleepCurrent: 5uA }\n',
};

/** Words of a line for a shell, of which some stand in quotes. */
function wordsOf(line: string): readonly string[] {
  return Array.from(
    line.matchAll(/"([^"]*)"|(\S+)/gu),
    ([, quoted, plain]) => quoted ?? plain ?? '',
  );
}

const everyPhase =
  'dozewatch replay "the doors.csv" -c hatch.yaml --zone Europe/Oslo --every-phase';
const options = ['-c', 'hatch.yaml', '--zone', 'Europe/Oslo'];

async function pageOf(command: string, inputs: readonly string[]): Promise<string> {
  const folder = ownFolder(files);
  const args = [command, ...inputs, ...options, '-o', 'out.html'];
  const ran = await runHere(folder, args);
  expect(ran.status, ran.stderr).toBe(0);
  return readFileSync(path.join(folder, 'out.html'), 'utf8').replaceAll('&quot;', '"');
}

describe('phases that are not judged', () => {
  it.each(['report', 'chart'])('are named below the verdict of a page of %s', async (command) => {
    const page = await pageOf(command, ['the doors.csv']);
    const verdict = /<p class="verdict[^"]*">(?<text>[^]*?)<\/p>/u.exec(page)?.groups?.['text'];
    expect(verdict).toContain('That is one phase of the checks');
    expect(verdict).toContain('The other phases were not judged here, since that takes long');
    expect(verdict).toContain(`npx ${everyPhase}`);
    expect(page).toContain('All this is of one phase of the checks.');
  });

  it('are named for each timeline of a report', async () => {
    const page = await pageOf('report', ['the doors.csv', 'the doors.csv']);
    expect(page.split(`npx ${everyPhase}`).length).toBeGreaterThan(4);
  });

  it('are judged by the command that an estimate names', async () => {
    const folder = ownFolder(files);
    const years = ['--profile-from', 'the doors.csv', '--years', '1', '--seed', 'a'];
    const ran = await runHere(folder, ['estimate', ...options, ...years], {
      terminalColumns: 200,
      environment: { NO_COLOR: '1' },
    });
    expect(ran.status, ran.stderr).toBe(0);
    expect(ran.stdout).toContain(`every phase of the checks take long: ${everyPhase}`);
    const [, ...again] = wordsOf(everyPhase);
    // Of two days only, so that it takes a moment.
    const replayed = await runHere(folder, [...again, '--until', '2026-05-03T00:00']);
    expect(replayed.stdout).toContain('Every phase');
    expect(replayed.status).toBeLessThan(2);
  });
});
