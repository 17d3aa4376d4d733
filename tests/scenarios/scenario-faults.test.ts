import { describe, expect, it } from 'vitest';
import { parseScenario, parseWatchFile, timelineOf } from '../../src/scenarios/index.js';
import { read, refused, timeline } from './days.js';
import { errorsOf, valueOf } from './reading.js';

describe('what is wrong with a scenario', () => {
  it.each([
    ['start: 2026-05-08T06:00', '2:8 instant-without-zone'],
    ['start: yesterday', '2:8 instant-unreadable'],
    ['start: 2026-05-08T06:00+02:00[Europe/Lisbon]', '2:8 instant-offset-mismatch'],
    ['start: 2026-05-08T06:00\nzone: Europe/Lisboa', '3:7 unknown-zone'],
    ['start: 2026-05-08T06:00+02:00\nzone: Europe/Lisbon', '2:8 instant-offset-mismatch'],
    ['start: 2026-05-08T06:00[Europe/Berlin]\nzone: Europe/Lisbon', '3:7 zone-twice'],
    ['start: 2026-10-25T01:30[Europe/Lisbon]', '2:8 local-time-twice'],
    ['start: 20', '2:8 wrong-type'],
    ['length: 0s', '2:9 out-of-range'],
    ['length: 11000d', '2:9 out-of-range'],
    ['length: 1', '2:9 duration-without-unit'],
    ['powerOnAt: 1d', '2:12 outside-timeline'],
    ['powerOnAt: never', '2:12 instant-unreadable'],
    ['network: [{ down: +1h }]', '2:11 missing-key'],
    ['network: [{ down: +25h, for: 1m }]', '2:19 outside-timeline'],
    ['network: { down: +1h, for: 1m }', '2:10 wrong-type'],
    ['power: [{ lost: +1h }]', '2:9 missing-key'],
    ['resets: [+1h, +60m]', '2:15 instant-twice'],
    ['resets: [+25h]', '2:10 outside-timeline'],
    ['contact: [{ at: +1h, for: 1m }]', '2:11 fault-unclear'],
    ['contact: [{ stuck: shut, chattering: true, at: +1h, for: 1m }]', '2:11 fault-unclear'],
    ['contact: [{ stuck: shut, openShare: 5%, at: +1h, for: 1m }]', '2:11 fault-unclear'],
    ['contact: [{ stuck: ajar, at: +1h, for: 1m }]', '2:20 unknown-word'],
    ['contact: [{ chattering: true, at: +1h, for: 20h, every: 1ms }]', '2:11 chatter-too-long'],
    [
      'contact: [{ stuck: shut, at: +1h, for: 1h }, { stuck: open, at: +90m, for: 1m }]',
      '2:46 overlap',
    ],
    ['temperature: [{ at: +1h }]', '2:15 missing-key'],
    ['temperature: [{ at: +1h, celsius: cold }]', '2:35 wrong-type'],
    ['temperature: [{ at: +1h, celsius: 1 }, { at: +1h, celsius: 2 }]', '2:40 instant-twice'],
    ['environment: { clockError: [] }', '2:28 empty-list'],
    ['environment: { bootTime: [] }', '2:26 empty-list'],
    ['environment: { bootTime: 3 }', '2:26 duration-without-unit'],
    ['environment: { leaveOpenAfter: 3m }', '2:16 unknown-key'],
    ['seed: 1.5', '2:7 wrong-type'],
    ['expect: { missd: 0 }', '2:11 unknown-key'],
    ['expect: { missed: -1 }', '2:19 out-of-range'],
    ['expect: { missed: { atLeast: 2, atMost: 1 } }', '2:30 min-above-max'],
    ['expect: { worstDelayAtMost: 75 }', '2:29 duration-without-unit'],
    ['generate: { profile: office }', '2:22 unknown-word'],
    ['generate: { profile: { openingsPerHour: [1], duration: 1s } }', '2:41 hours-unreadable'],
    [
      'generate: { profile: { openingsPerHour: { "25": 1 }, duration: 1s } }',
      '2:41 hours-unreadable',
    ],
    [
      'generate: { profile: { openingsPerHour: { "6-9": 1, "8": 2 }, duration: 1s } }',
      '2:41 hours-twice',
    ],
    [
      'generate: { profile: { openingsPerHour: { "6": 1 }, duration: { } } }',
      '2:63 distribution-unclear',
    ],
    ['watch: {}', '2:1 unknown-key'],
    ['name: y', '2:1 duplicate-key'],
  ])('is said with its place: %s', (text, expected) => {
    expect(refused(`name: x\n${text}`)).toEqual([expected]);
  });

  it.each([
    ['name:', '1:1 empty-value'],
    ['name: ""', '1:7 empty-value'],
    ['name: 5', '1:7 wrong-type'],
    [`name: ${'x'.repeat(201)}`, '1:7 text-too-long'],
  ])('also of its name (%#)', (text, expected) => {
    expect(refused(text)).toEqual([expected]);
  });

  it('is all said at once: of keys, of entries, and of what they add up to', () => {
    const text = [
      'name: x',
      'strt: 2026-05-08',
      'door:',
      '  - at 08:00 for 1h',
      '  - at 08:30 for 1h',
      '  - at 10:00 for 5',
      '  - at day 9 10:00 for 5m',
      'resets: [yesterday]',
      'expect: { alarms: 1 }',
    ].join('\n');
    expect(refused(text)).toEqual([
      '2:1 unknown-key',
      '5:5 overlap',
      '6:5 duration-without-unit',
      '7:5 outside-timeline',
      '8:10 instant-unreadable',
      '9:11 unknown-key',
    ]);
  });
});

describe('what stands in the wrong place of a scenario', () => {
  it.each([
    [
      'door: { generate: { profile: seed-bank } }',
      'generate: it belongs at the top level of the file',
    ],
    ['door: { at: "07:30", for: 5m }', 'begin each entry with a dash'],
    ['door: { expect: { missed: 0 } }', 'expect: it belongs at the top level of the file'],
    [
      'door: [{ at: "07:30", for: 5m, expect: { missed: 0 } }]',
      'it belongs at the top level of the file',
    ],
    ['environment: { missed: 0 }', 'it belongs under expect'],
    ['celsius: 4', 'it belongs in an entry of temperature'],
    ['clockError: 1%', 'it belongs under environment'],
    ['until: "08:00"', undefined],
  ])('gets a hint where it belongs: %s', (text, hint) => {
    const result = parseScenario(`name: x\n${text}`, 'x.yaml');
    expect(result.ok ? [] : result.errors.map((error) => error.hint)).toEqual([hint]);
  });
});

describe('faults that come to nothing', () => {
  it('are remarked on', () => {
    const day = timeline('name: x\npower: [{ lost: +1h, for: 1h }]\nresets: [+90m, +3h]');
    expect(day.remarks).toMatchObject([
      { code: 'reset-without-power', message: expect.stringContaining('+1h30m') },
      { code: 'reset-assumed', message: expect.stringContaining('+3h') },
    ]);
  });

  it('and so many changes of the contact that memory would run out are refused', () => {
    const text = [
      'name: x',
      'length: 2d',
      'generate: { profile: { openingsPerHour: { "0-24": 300 }, duration: 1s } }',
    ].join('\n');
    const watch = valueOf(
      parseWatchFile('contact: { operateGap: 8, releaseGap: 12, bounceTime: 1s }', 'w.yaml'),
    );
    expect(errorsOf(timelineOf(read(text), watch))).toEqual(['too-many-edges']);
  });
});
