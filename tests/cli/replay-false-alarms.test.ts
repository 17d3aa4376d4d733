// What a replay says where false alarms are all that it found: a phase that has one, and a next step that is about them.
import { describe, expect, it } from 'vitest';
import { ownFolder, runHere } from './run-here.js';

const files = {
  // Each opening lasts 3 min: of checks 2 min apart it has two at half of the phases, and one at the others.
  'door.csv': [
    'start,end',
    ...[4, 5].map((day) => `2026-05-0${day}T10:00:30Z,2026-05-0${day}T10:03:30Z`),
    '',
  ].join('\n'),
  'watch.yaml':
    'watch: { checkInterval: 2m, escalationThreshold: 2 }\njudge: { leaveOpenAfter: 10m }\n',
  'supply.yaml':
    'watch: { checkInterval: 2m, escalationThreshold: 2 }\njudge: { leaveOpenAfter: 10m }\nsupply: { preset: bare-board, capacity: 2Ah }\n',
};

describe('false alarms that only other phases have', () => {
  it('are shown by a power-on that has one', async () => {
    const folder = ownFolder(files);
    const replayed = (more: readonly string[]) =>
      runHere(folder, ['replay', 'door.csv', '-c', 'watch.yaml', ...more]);
    const shown = await replayed([]);
    expect(shown.status).toBe(0);
    const { status, stdout } = await replayed(['--every-phase']);
    expect(status).toBe(1);
    const option = /--power-on-at (?<at>\S+)/u.exec(stdout)?.groups?.['at'];
    const seen = await replayed(['--power-on-at', option ?? '']);
    expect(seen.status).toBe(1);
    expect(seen.stdout).toContain('FALSE ALARM');
  });
});

describe('the next step of a replay with false alarms alone', () => {
  it('is about false alarms, by this log', async () => {
    const folder = ownFolder(files);
    const nextOf = async (watch: string): Promise<string | undefined> => {
      const args = ['replay', 'door.csv', '-c', watch, '--every-phase'];
      const { stdout } = await runHere(folder, args);
      return stdout.split('\n').find((line) => line.startsWith('Next: '));
    };
    expect(await nextOf('watch.yaml')).toMatch(
      /false alarms .*: dozewatch estimate -c watch\.yaml --profile-from door\.csv$/u,
    );
    expect(await nextOf('supply.yaml')).toMatch(
      /false alarms .*: dozewatch tune -c supply\.yaml --profile-from door\.csv$/u,
    );
  });
});
