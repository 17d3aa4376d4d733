// Scenario files: every key, every fault, instants of each form, and the timelines that they become with several watch files.
import { describe, expect, it } from 'vitest';
import {
  checkedExpectations,
  parseInstant,
  parseScenario,
  parseWatchFile,
  scenarioText,
  timelineOf,
  unmetExpectations,
  type WatchFile,
} from '../../src/scenarios/index.js';
import { readWrittenInstant, resolveInstant } from '../../src/scenarios/time/written-instant.js';
import { valueOf } from './reading.js';
import { digestOf, expectRecorded, onOneLine, openSentences, plainText } from './recording.js';
import { instants, scenarioTexts, starts, watches } from './scenario-texts.js';

type Sentences = ReturnType<typeof openSentences>;

function timelineLine(
  text: string,
  [name, watchFile]: readonly [string, WatchFile],
  sentences: Sentences,
): string {
  const scenario = valueOf(parseScenario(text, 'porch.yaml'));
  const timeline = timelineOf(scenario, watchFile);
  if (!timeline.ok) {
    return `  ${name}: ${timeline.errors.map((error) => sentences.brief(error)).join('; ')}`;
  }
  const { world, remarks, notes, moves, timing, isGenerated = false } = timeline.value;
  const { openings, contact } = world;
  const counts = [openings.fromMs.length, contact.length, moves?.length ?? 'no'].join(' ');
  const said = remarks.map((remark) => sentences.brief(remark)).join('; ');
  return `  ${name}: ${counts} ${digestOf([world, moves, timing, isGenerated])} ${plainText(notes)} ${said}`;
}

describe('a scenario file', () => {
  it('is read or refused as before, and becomes the same timelines', () => {
    const sentences = openSentences();
    const files = watches.map(
      ([name, text]) =>
        [name, valueOf(parseWatchFile(text === '' ? null : text, 'watch.yaml'))] as const,
    );
    const lines = scenarioTexts().flatMap((text) => {
      const read = parseScenario(text, 'porch.yaml');
      const first = onOneLine(text);
      if (!read.ok)
        return [first, `  ${read.errors.map((error) => sentences.brief(error)).join('; ')}`];
      const { door, start, lengthMs } = read.value;
      const written = scenarioText(read.value, ['kept']);
      const again = valueOf(parseScenario(written, 'porch.yaml'));
      for (const [, watchFile] of files) {
        const [one, other] = [read.value, again].map((scenario) => timelineOf(scenario, watchFile));
        if (one?.ok === true && other?.ok === true)
          expect(plainText(other.value.world), text).toBe(plainText(one.value.world));
      }
      return [
        first,
        `  ${digestOf({ ...read.value, file: '' })} ${String(door.length)} in ${String(lengthMs)} from ${String(start.epochMs)} ${start.timeZone}`,
        ...files.map((file) => timelineLine(text, file, sentences)),
        `  ${onOneLine(written)}`,
      ];
    });
    expectRecorded('scenario-files', [...lines, ...sentences.list()]);
  });

  it.each([
    ['scenario.json', 'scenario'],
    ['a.b.yaml', 'a.b'],
    ['-', 'scenario'],
    ['.yaml', '.yaml'],
    ['x/y/night.yml', 'night'],
  ])('called %s is named %s', (file, name) => {
    expect(valueOf(parseScenario('{ "length": "1h" }', file)).name).toBe(name);
  });
});

describe('an expectation', () => {
  const none = {
    ...{ openings: 0, leaveOpens: 0, reported: 0, late: 0, missed: 0, undecided: 0, unpowered: 0 },
    ...{ unknown: 0, alerts: 0, falseAlarms: 0, earlyAlerts: 0, repeats: 0, checks: 0 },
  };

  it('is met or not, in words and in numbers, as before', () => {
    const wants = [
      '0',
      '2',
      '{ atLeast: 1 }',
      '{ atLeast: 0 }',
      '{ atMost: 1 }',
      '{ atLeast: 1, atMost: 2 }',
      '{ atLeast: 0, atMost: 0 }',
      '{}',
    ];
    const counted = wants.flatMap((want) =>
      (['alerts', 'undelivered', 'lowBatteryMessages'] as const).map((name) => {
        const { expect: wish } = valueOf(parseScenario(`expect: { ${name}: ${want} }\n`, 'x.yaml'));
        const got = [0, 1, 2, 3, null].map((count) => {
          const summary = {
            ...none,
            worstDelayMs: null,
            ...(count === null ? {} : { [name]: count }),
          };
          return wish === null
            ? ''
            : plainText([unmetExpectations(wish, summary), checkedExpectations(wish, summary)]);
        });
        return `${name}: ${want} → ${[...new Set(got)].join(' ')}`;
      }),
    );
    const delays = [
      'worstDelayAtMost: 1m',
      'worstDelayAtLeast: 1m',
      'worstDelayAtMost: 1m, worstDelayAtLeast: 50s',
      'worstDelayAtLeast: 0s',
    ].map((want) => {
      const { expect: wish } = valueOf(parseScenario(`expect: { ${want} }\n`, 'x.yaml'));
      const got = [null, 0, 30_000, 60_000, 60_001].flatMap((worstDelayMs) =>
        [0, 1].map((leaveOpens) => {
          const summary = { ...none, leaveOpens, worstDelayMs };
          return wish === null
            ? ''
            : plainText([unmetExpectations(wish, summary), checkedExpectations(wish, summary)]);
        }),
      );
      return `${want} → ${got.join(' ')}`;
    });
    expectRecorded('expectations', [...counted, ...delays]);
  });
});

describe('an instant of a scenario', () => {
  it('is worked out or refused as before', () => {
    const lines = starts.flatMap((start) => {
      const scenario = valueOf(parseScenario(`${start}\nlength: 3d\n`, 'x.yaml'));
      const times = instants.map((text) => {
        const written = readWrittenInstant(text);
        const at = [0, 5_400_000, 82_800_000, 104_400_000].map((notBeforeMs) => {
          const found = written.ok
            ? resolveInstant(written.value, { start: scenario.start, notBeforeMs })
            : written;
          return found.ok
            ? String(found.value / 1_000)
            : `${found.problem.code}${found.problem.hint === undefined ? '' : ` (${found.problem.hint})`}`;
        });
        return `  ${text} → ${[...new Set(at)].join(' | ')}`;
      });
      return [onOneLine(start), ...times];
    });
    expectRecorded('scenario-instants', lines);
  });

  it('with a zone or without is read or refused as before', () => {
    const sentences = openSentences();
    const lines = instants.flatMap((text) => {
      const at = [null, 'Europe/Oslo', '+05:30', 'Mars/Base'].map((zone) => {
        const read = parseInstant(text, zone, { file: 'x' });
        return read.ok ? String(read.value) : sentences.brief(read.errors[0] ?? expect.fail());
      });
      return [`${text} → ${at.join(' | ')}`];
    });
    expectRecorded('instants', [...lines, ...sentences.list()]);
  });
});
