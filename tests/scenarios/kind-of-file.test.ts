import { describe, expect, it } from 'vitest';
import { type FileKind, otherKindOfText } from '../../src/scenarios/index.js';

const texts: Readonly<Partial<Record<FileKind, string>>> = {
  'door log': 'time,state\n2026-03-02T00:00:00Z,shut\n2026-03-02T07:45:04Z,open\n',
  'device log':
    'time,event,value\n2026-05-08T06:00:00Z,power-on,\n2026-05-08T06:00:00Z,check,shut\n',
  'list of trials': 'direction,gap,reading\nclosing,20,open\nclosing,10,shut\n',
  'list of readings of the current asleep': 'meter,7.3uA\n',
  'record of a drill': 'step,message\n1,4:05\n2,none\n',
  'log of temperatures': 'time,temperature\n2026-05-08T06:00:00Z,3\n',
  'watch file': 'watch:\n  checkInterval: 3m\n',
  scenario: 'name: A day\nlength: 1d\n',
  'usage profile': 'openingsPerHour: 2\n',
};

describe('a file of another kind', () => {
  it('is called by its own, and is none where it is the kind that is needed', () => {
    for (const [kind, text] of Object.entries(texts)) {
      for (const wanted of ['door log', 'list of trials', 'watch file'] as const) {
        const other = otherKindOfText(text, { file: 'a', wanted });
        expect(other?.kind, `${kind} for a ${wanted}`).toBe(kind === wanted ? undefined : kind);
      }
    }
  });

  it('is not seen in logs under other names, whose own errors say more', () => {
    const unknown = [
      'when,what\n2026-03-03T00:01:00Z,heartbeat-of-hatch\n',
      'time,event,value\n2026-05-08T06:00:00Z,chk,open\n2026-05-08T06:02:00Z,chk,open\n',
      'openning,8,shut\n',
      '',
    ];
    for (const text of unknown) {
      expect(otherKindOfText(text, { file: 'a', wanted: 'device log' }), text).toBe(null);
    }
  });
});
