// Sound texts of each kind, with every fault of one character: read otherwise or refused, as before.
import { describe, it } from 'vitest';
import { type Kind } from '../../src/model/index.js';
import {
  otherKindOfText,
  parseDeviceLog,
  parseDuration,
  parseInstant,
  parseProfile,
  parseReadings,
  parseScenario,
  parseWatchFile,
  turnedList,
  typedText,
  wrappedList,
} from '../../src/scenarios/index.js';
import { logTimes } from '../../src/scenarios/log/log-time.js';
import { readRowDuration, unitInName } from '../../src/scenarios/log/row-duration.js';
import { gapMeasure, readMeasure } from '../../src/scenarios/quantity/measure.js';
import { readDoorSentence } from '../../src/scenarios/scenario/door-sentence.js';
import {
  isTimeOfDay,
  recognisedPatterns,
  yearlessDate,
} from '../../src/scenarios/time/recognise.js';
import { readWrittenInstant } from '../../src/scenarios/time/written-instant.js';
import type { DurationUnit } from '../../src/scenarios/types.js';
import { typedValue } from '../../src/scenarios/watch/short-form.js';
import { outcomesOfFaults } from './faulty.js';
import { brief, pairsOf, readLog } from './reading.js';
import { digestOf, expectRecorded, onOneLine, openSentences, plainText } from './recording.js';
import { blocksOf, linesOf } from './texts.js';

const lengthUnits: readonly (DurationUnit | null)[] = [null, 's', 'mm:ss', 'hh:mm'];

const marksOf = (text: string): readonly string[] => text.split('');

/** A value, or its problem. */
function decoded(
  read:
    | { readonly ok: true; readonly value: unknown }
    | {
        readonly ok: false;
        readonly problem: { readonly code: string; readonly hint?: string | undefined };
      },
): string {
  return read.ok
    ? plainText(read.value)
    : `${read.problem.code}${read.problem.hint === undefined ? '' : '?'}`;
}

describe('a text with a fault of one character', () => {
  it('that is a time is read or refused as before', () => {
    const lines = linesOf('faulty-times').flatMap((text) => {
      const outcome = (faulty: string): string => {
        const times = logTimes(null);
        const ms = times.read(faulty);
        if (!Number.isNaN(ms)) return `${new Date(ms).toISOString()} ${times.firstOffset ?? ''}`;
        const doubt = times.doubtOf(faulty);
        if (doubt !== null) return `${doubt.dayFirst} or ${doubt.monthFirst}`;
        const clock = isTimeOfDay(faulty) ? 'a clock ' : '';
        return `${clock}${recognisedPatterns(faulty).join(' or ')} ${plainText(yearlessDate(faulty))}`;
      };
      return outcomesOfFaults(text, outcome, marksOf('9 a'));
    });
    expectRecorded('faults-of-times', lines);
  });

  it('that is an amount is read or refused as before', () => {
    const duration = (text: string): string => {
      const read = parseDuration(text, { file: '--it' });
      return read.ok
        ? String(read.value)
        : read.errors.map(({ code, hint = '' }) => `${code} ${hint}`).join();
    };
    const lines = [
      ...['1h30m', '1.5s', '400ms', 'PT1H30M', '2 weeks'].flatMap((text) =>
        outcomesOfFaults(text, duration, marksOf('0.x ')),
      ),
      ...['10.5mm', '3 cm', '5µm'].flatMap((text) =>
        outcomesOfFaults(
          text,
          (faulty) => decoded(readMeasure(gapMeasure, faulty)),
          marksOf('0.-x'),
        ),
      ),
      ...[
        '90',
        '13:30',
        '1:02:03.5',
        '2 days, 2:03:04',
        '1h 30 min',
        '2 hours 5 secs',
        '3 minutes',
        '1 day',
        '7 hrs 1 second',
      ].flatMap((text) =>
        outcomesOfFaults(
          text,
          (faulty) => lengthUnits.map((unit) => decoded(readRowDuration(faulty, unit))).join(' '),
          marksOf('0:s '),
        ),
      ),
      ...[
        'duration_ms',
        'Duration (min)',
        'open seconds',
        'hours open',
        'mm:ss',
        'hh:mm',
        'hrs',
      ].flatMap((text) =>
        outcomesOfFaults(text, (faulty) => String(unitInName(faulty)), marksOf('s_ ')),
      ),
    ];
    expectRecorded('faults-of-amounts', lines);
  });

  it('that says when, or what the door does, is understood or refused as before', () => {
    const lines = [
      ...['day 2 at 07:30:15.25+02:00', '2026-05-08 07:30', '+1h30m', 'end'].flatMap((text) =>
        outcomesOfFaults(text, (faulty) => decoded(readWrittenInstant(faulty)), marksOf('3: ')),
      ),
      ...[
        '2026-05-08T07:30:15.250+02:00[Europe/Oslo]',
        '2026-05-08 07:30',
        '1778220000',
        '2026-05-08',
      ].flatMap((text) =>
        outcomesOfFaults(
          text,
          (faulty) =>
            ['Europe/Oslo', null]
              .map((zone) => {
                const read = parseInstant(faulty, zone, { file: 'x' });
                return read.ok
                  ? String(read.value)
                  : read.errors.map(({ code, hint = '' }) => `${code} ${hint}`).join();
              })
              .join(' '),
          marksOf('3: '),
        ),
      ),
      ...[
        'from 08:15 until 08:40 ajar at 6mm (the wind)',
        'at +11h for 25m creeping to 9.5 mm',
        '08:15 to end',
      ].flatMap((text) =>
        outcomesOfFaults(text, (faulty) => decoded(readDoorSentence(faulty)), marksOf(' )')),
      ),
    ];
    expectRecorded('faults-of-sentences', lines);
  });

  it('that is typed as a setting is the value that it was', () => {
    const typed: readonly (readonly [string, Kind])[] = [
      ['2s..8s', 'timeRange'],
      ['2 out of 3', 'threshold'],
      ['2/3', 'threshold'],
      ['31mA for 2s', 'activity'],
      ['3.8mC', 'activity'],
      ['-20C: 1%, 25°C: 0%', 'clockError'],
      ['-2%..2%', 'clockError'],
      ['0C: 80%, 20 C: 100%', 'derating'],
      ['100%: 4.2V, 0%: 3V', 'voltageCurve'],
      ['{ firstDay: 5% }', 'selfDischarge'],
      ['-12.5', 'celsius'],
      ['3', 'count'],
      ['true', 'flag'],
      ['10.5', 'gap'],
    ];
    const lines = typed.flatMap(([text, kind]) => {
      const outcome = (faulty: string): string => {
        const value = typedValue(faulty, kind);
        return `${plainText(value)} ${typedText(value, kind)}`;
      };
      return outcomesOfFaults(text, outcome, marksOf(':/.'));
    });
    expectRecorded('faults-of-settings', lines);
  });

  it('that is a door log is read or refused as before', () => {
    const sentences = openSentences();
    const lines = blocksOf('faulty-door-logs').flatMap((text) => {
      const file = /^(?:\{|\[[{[])/u.test(text) ? 'doors.json' : 'doors.csv';
      const outcome = (faulty: string): string => {
        const log = readLog(faulty, { file });
        if (!log.ok) return log.errors.map((error) => sentences.brief(error)).join('; ');
        const { rows, mergedRows, timeZone, remarks } = log.value;
        return `${digestOf(pairsOf(log.value))} ${String(rows)} ${String(mergedRows)} ${timeZone} ${remarks.map(brief).join(' ')}`;
      };
      return ['', onOneLine(text), ...outcomesOfFaults(text, outcome, marksOf(',"'), 3)];
    });
    expectRecorded('faults-of-door-logs', [...lines, '', ...sentences.list()]);
  });

  it('that is a small table is read or refused as before', () => {
    const device = 'time,event,value\n2026-05-08 06:00,check,open\n2026-05-08 06:02,alert,failed\n';
    const warmth = 'time;temp\n10m;4.5C\n1h;46F\n';
    const lines = [
      ...[
        '{"a":1,"rows":[{"t":"]","u":[1]}],"b":2}',
        '{"x":{"rows":[[1,2],[3,4]]}}',
        '{"2026-05-08":"a","2026-05-09":"b"}',
        '{"time":[1,2],"state":["a","b"]}',
      ].flatMap((text) =>
        outcomesOfFaults(
          text,
          (faulty) =>
            `${wrappedList(faulty)?.trim() ?? '-'} ${turnedList(faulty, (key) => key.startsWith('2026-')) ?? '-'}`,
          marksOf('["'),
        ),
      ),
      ...outcomesOfFaults(
        device,
        (text) => {
          const read = parseDeviceLog(text, 'x', { zone: null });
          return read.ok ? digestOf(read) : read.errors.map(brief).join(' ');
        },
        marksOf(';"'),
      ),
      ...outcomesOfFaults(
        warmth,
        (text) => {
          const read = parseReadings(text, 'x');
          return read.ok ? digestOf(read) : read.errors.map(brief).join(' ');
        },
        marksOf(',"'),
      ),
      ...[
        'time,state\n8.5.26,open\n',
        '{"time":1778220000,"state":"on"}\n',
        'step;message\n1;0:45\n',
        'time,event\n2026-05-08,check\n',
        'time,temperature (C)\n2026-05-08,4\n',
        '# x\nwatch:\n  a: 1\n',
      ].flatMap((text) =>
        outcomesOfFaults(
          text,
          (faulty) => String(otherKindOfText(faulty, { file: 'x', wanted: 'scenario' })?.kind),
          marksOf(',x\n'),
        ),
      ),
    ];
    expectRecorded('faults-of-tables', lines);
  });

  it.each([
    ['watch', parseWatchFile, 'w.yaml'],
    ['scenario', parseScenario, 's.yaml'],
    ['profile', parseProfile, 'p.yaml'],
    ['json', parseWatchFile, 'w.json'],
  ])('that is a %s file is read or refused as before', (kind, parse, file) => {
    const sentences = openSentences();
    const lines = blocksOf(`faulty-${kind}`).flatMap((text) => {
      const outcome = (faulty: string): string => {
        const read = parse(faulty, file);
        if (!read.ok) return read.errors.map((error) => sentences.brief(error)).join('; ');
        return `${digestOf(read.value)} ${read.warnings.map(brief).join(' ')}`;
      };
      const indented = text.split('\n').flatMap((line, at, all) =>
        ['', ' ', '   ', '     '].map((lead) => {
          const other = all.with(at, lead + line.trimStart()).join('\n');
          return `  ${String(at + 1)} by ${String(lead.length)}: ${outcome(other)}`;
        }),
      );
      return [
        '',
        onOneLine(text),
        ...outcomesOfFaults(text, outcome, marksOf(':{"'), 4),
        ...(kind === 'json' ? [] : indented),
      ];
    });
    expectRecorded(`faults-of-${kind}`, [...lines, '', ...sentences.list()]);
  });
});
