// The options that a hint names are those of the command that printed it, by its own help.
import { describe, expect, it } from 'vitest';
import type { commandNames } from '../../src/cli/command.js';
import { withKindHints } from '../../src/cli/layout/kind-hint.js';
import type { FileKind } from '../../src/scenarios/index.js';
import { ownFolder, runHere } from './run-here.js';

const kinds: readonly FileKind[] = ['door log', 'scenario', 'watch file', 'usage profile'];
/** What a command may need where such a file was given. */
const wanteds = {
  place: ['list of trials', 'list of readings of the current asleep', 'watch file'],
  drill: ['record of a drill', 'watch file'],
  margin: ['log of temperatures', 'watch file'],
  silence: ['device log', 'usage profile', 'watch file'],
  estimate: ['usage profile', 'watch file'],
  tune: ['usage profile', 'watch file'],
  year: ['usage profile', 'watch file'],
  bounds: ['usage profile', 'watch file'],
  hunt: ['watch file'],
  emit: ['watch file'],
} as const satisfies Partial<Record<(typeof commandNames)[number], readonly FileKind[]>>;

const general = 'a general hint';

function hintOf(command: string, kind: string, wanted: string): string {
  const message = `this is a ${kind}, but a ${wanted} is needed here`;
  const source = { file: 'a' };
  const error = { code: 'other-kind-of-file', severity: 'error', source, message } as const;
  return withKindHints([{ ...error, hint: general }], [command])[0]?.hint ?? '';
}

describe('a hint about a file of another kind', () => {
  it.each(Object.entries(wanteds))('names options that %s has', async (command, all) => {
    const { stdout } = await runHere(ownFolder(), [command, '--help-all']);
    for (const wanted of all) {
      for (const kind of kinds.filter((one) => one !== wanted)) {
        const hint = hintOf(command, kind, wanted);
        const where = `${kind} for a ${wanted}: ${hint}`;
        expect(hint, where).not.toContain('as the timeline');
        if (command !== 'bounds' || kind !== 'watch file') expect(hint, where).not.toBe(general);
        // What another command takes is that command's own.
        const own = hint.split('; ').filter((part) => !/^dozewatch (?!place)/u.test(part));
        for (const option of own.join(' ').match(/(?<= )--?[a-z][a-z-]*/gu) ?? []) {
          expect(stdout, `${where}: ${option}`).toMatch(new RegExp(`${option}[ ,]`, 'u'));
        }
      }
    }
  });

  it('stays general for commands that take timelines', () => {
    for (const command of ['replay', 'battery', 'compare', 'report', 'rig']) {
      expect(hintOf(command, 'watch file', 'scenario'), command).toBe(general);
    }
  });
});
