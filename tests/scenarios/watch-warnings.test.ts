import { describe, expect, it } from 'vitest';
import { parseWatchFile, watchWarnings } from '../../src/scenarios/index.js';
import { brief, valueOf } from './reading.js';

function warned(text: string): readonly string[] {
  const result = parseWatchFile(text, 'watch.yaml');
  return result.ok ? result.warnings.map(brief) : ['refused'];
}

describe('settings that contradict or cancel each other are warned of', () => {
  it.each([
    [
      'watch: { escalationThreshold: { open: 2, outOf: 3 } }\njudge: { leaveOpenAfter: 10m }',
      ['1:31 threshold-same-as-smaller'],
    ],
    ['watch: { escalationThreshold: { open: 1, outOf: 2 } }', ['1:31 threshold-same-as-smaller']],
    [
      'watch: { escalationThreshold: { open: 2, outOf: 4 }, clearThreshold: 2 }\njudge: { leaveOpenAfter: 10m }',
      ['1:31 threshold-same-as-smaller'],
    ],
    [
      'watch: { escalationThreshold: { open: 2, outOf: 3 }, clearThreshold: 2 }\njudge: { leaveOpenAfter: 10m }',
      [],
    ],
    ['watch: { retry: { interval: 5m, attempts: 1 } }', ['1:29 retry-without-effect']],
    ['watch: { retry: { attempts: 1 } }', []],
    ['watch: { afterAlert: hold-until-reset }', ['1:22 cooldown-after-reset-only']],
    [
      'watch: { afterAlert: hold-until-reset, alertCooldown: 1h }',
      ['1:55 cooldown-after-reset-only'],
    ],
    ['watch: { afterAlert: hold-until-reset, alertCooldown: 0s }', []],
    ['watch: { escalationThreshold: 1, recheckInterval: 1m }', ['1:51 recheck-without-effect']],
    ['watch: { retry: { interval: 5m } }', ['1:29 retry-longer-than-check']],
    ['watch: { alertCooldown: 0s }', ['1:25 alert-at-each-check']],
    [
      'watch: { alertCooldown: 0s, cooldownEndsWhenShut: true }',
      ['1:25 alert-at-each-check', '1:51 no-cooldown-to-end'],
    ],
    ['watch: { alertCooldown: 2m }', ['1:25 cooldown-over-by-next-check']],
    ['watch: { heartbeatInterval: 1m }', ['1:29 heartbeat-shorter-than-check']],
    ['judge: { leaveOpenAfter: 20m, reportWithin: 10m }', ['1:45 report-before-leave-open']],
    [
      'judge: { leaveOpenAfter: 181s, reportWithin: 181s }\nwatch: { checkInterval: 3m }',
      ['1:46 report-late-at-rest'],
    ],
    ['judge: { leaveOpenAfter: 1m }', ['1:26 leave-open-too-short-at-rest']],
    ['judge: { quietUpTo: 3m }', ['1:21 quiet-beyond-leave-open']],
    [
      'watch: { wakeOn: opening }\ncontact: { operateGap: 8, releaseGap: 12, bounceTime: 5ms }',
      ['1:18 bounce-wakes'],
    ],
    [
      'device: { bootTime: 4ms }\njudge: { leaveOpenAfter: 10m }\ncontact: { operateGap: 8, releaseGap: 12, bounceTime: 5ms }',
      ['3:55 bounce-beyond-boot'],
    ],
    ['contact: { operateGap: 1, releaseGap: 1.5 }', ['1:24 seal-beyond-contact']],
    ['contact: { operateGap: 1, releaseGap: 3 }', ['1:24 seal-beyond-contact']],
    ['contact: { operateGap: 2, releaseGap: 3 }', []],
  ])('%s', (text, expected) => {
    expect(warned(text)).toEqual(expected);
  });

  it('in words that say what happens', () => {
    const result = parseWatchFile(
      'watch: { escalationThreshold: { open: 2, outOf: 3 } }',
      'watch.yaml',
    );
    expect(result.ok && result.warnings[0]).toMatchObject({
      severity: 'warning',
      found: '{ open: 2, outOf: 3 }',
      message:
        '2 out of 3 works like 2 in a row, because one shut check clears the memory (clearThreshold)',
      hint: 'raise clearThreshold, or make it 2',
    });
  });

  it('also without a file, where every setting counts as given', () => {
    const file = valueOf(
      parseWatchFile('watch: { alertCooldown: 0s }\njudge: { leaveOpenAfter: 10m }', 'watch.yaml'),
    );
    expect(watchWarnings(file).map(({ code }) => code)).toEqual([
      'alert-at-each-check',
      'no-cooldown-to-end',
    ]);
  });
});

describe('the cooldown of a watch that holds', () => {
  const says = (resets: string): string => {
    const text = `watch: { afterAlert: hold-until-reset }\ndevice: { reset: { ${resets} } }`;
    const result = parseWatchFile(text, 'watch.yaml');
    return result.ok ? (result.warnings[0]?.message ?? '') : '';
  };

  it('has no effect where every reset clears the memory, and else only after a reset', () => {
    expect(says('button: clears, watchdog: clears, software: clears')).toContain(
      'never has an effect',
    );
    expect(says('button: keeps, watchdog: clears, software: clears')).toContain('only suppress');
    // A reset of which nothing is given may keep it.
    expect(says('button: clears')).toContain('only suppress');
  });
});
