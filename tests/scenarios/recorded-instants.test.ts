// Times of door logs in many forms, compared with the instants that they were written from, and kept as they are read.
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { readLog } from './reading.js';
import { expectRecorded, onOneLine, openSentences } from './recording.js';
import { linesOf } from './texts.js';
import { forms, zones } from './written-times.js';

const minuteMs = 60_000;

/** Instants of which a form can lose the seconds or the year's century, and nothing else. */
const instants = [
  '2026-05-08T06:05:09.123Z',
  '2024-02-29T23:59:59.999Z',
  '2026-12-03T13:04:05.050Z',
  '1999-12-31T12:00:00Z',
  '2068-01-01T00:00:01.700Z',
  '2031-11-30T11:30:00Z',
].map((text) => Temporal.Instant.from(text).toZonedDateTimeISO('UTC').toPlainDateTime());

const msOf = (local: Temporal.PlainDateTime): number =>
  Date.UTC(
    local.year,
    local.month - 1,
    local.day,
    local.hour,
    local.minute,
    local.second,
    local.millisecond,
  );

function outcome(text: string, options: Parameters<typeof readLog>[1], sentences: Sentences) {
  const log = readLog(`time\tstate\n${text}\topen\n`, { file: 'doors.tsv', ...options });
  if (!log.ok) return log.errors.map((error) => sentences.brief(error)).join('; ');
  const { firstMs, timeZone, remarks } = log.value;
  const codes = remarks.map((remark) => sentences.brief(remark));
  return [new Date(firstMs).toISOString(), timeZone, ...codes].join(' ');
}

/** Options, and what says that they change nothing of note. */
const otherWays = [
  ['Oslo', { zone: 'Europe/Oslo' }, 'Z Europe/Oslo times'],
  ['dated', { date: '2026-05-08' }, 'Z UTC times-taken-as-utc dates-counted'],
  ['serial', { timeFormat: 'serial' }, 'log-time-unreadable'],
] as const;

type Sentences = ReturnType<typeof openSentences>;

describe('a time as a log writes it', () => {
  it('is the instant that it was written from, in every form that is recognised', () => {
    const sentences = openSentences();
    const lines: string[] = [];
    for (const { name, write, cuts, unclear } of forms) {
      for (const local of instants) {
        const text = write(local);
        const line = outcome(text, {}, sentences);
        lines.push(`${name}: ${text} -> ${line}`);
        if (unclear === true) continue;
        const wanted = Math.floor(msOf(local) / (cuts ?? 1)) * (cuts ?? 1);
        expect(line, text).toContain(new Date(wanted).toISOString());
      }
    }
    expectRecorded('times-by-form', [...lines, ...sentences.list()]);
  });

  it('is refused, or read, in odd forms as it was before', () => {
    const sentences = openSentences();
    const lines = linesOf('times-odd').map((text) => {
      const plain = outcome(text, {}, sentences);
      const others = otherWays.flatMap(([name, options, uninteresting]) => {
        if (name === 'Oslo' && plain.includes('log-time-unreadable')) return [];
        const line = outcome(text, options, sentences);
        return line === plain || line.includes(uninteresting) ? [] : [`${name}: ${line}`];
      });
      return [`${onOneLine(text)} -> ${plain}`, ...others].join(' | ');
    });
    expectRecorded('times-odd', [...lines, ...sentences.list()]);
  });

  it('is read by a pattern as it was before', () => {
    const sentences = openSentences();
    const patternTexts = linesOf('time-pattern-texts');
    const lines = linesOf('time-patterns').flatMap((timeFormat) => {
      const read = ['2026-05-08 06:15:09', ...patternTexts].map(
        (text) => [text, outcome(text, { timeFormat }, sentences)] as const,
      );
      const first = `${onOneLine(timeFormat)}: ${read[0]?.[1] ?? ''}`;
      // A pattern that is refused is refused whatever it should read.
      if (first.includes('time-format-')) return [first];
      const fits = read.slice(1).filter(([, line]) => !line.includes('log-time-unreadable'));
      return [first, ...fits.map(([text, line]) => `    ${text} -> ${line}`)];
    });
    expectRecorded('times-by-pattern', [...lines, ...sentences.list()]);
  });
});

describe('a local time near a change of the clocks', () => {
  const around = zones.flatMap(({ zone, change }) =>
    Array.from({ length: 49 }, (_, step) => {
      const at = Temporal.Instant.from(change).toZonedDateTimeISO(zone).toPlainDateTime();
      return { zone, local: at.add({ minutes: (step - 24) * 10 }) };
    }),
  );

  it('is the instant that the date library finds: none, one, or the earlier of two', () => {
    for (const { zone, local } of around) {
      const [earlier, later] = (['earlier', 'later'] as const).map((disambiguation) =>
        local.toZonedDateTime(zone, { disambiguation }),
      );
      const iso = local.toString({ smallestUnit: 'minute' }).replace('T', ' ');
      const dotted = `${String(local.day)}.${String(local.month)}.${String(local.year)} ${iso.slice(11)}`;
      const isSkipped = earlier?.toPlainDateTime().equals(local) !== true;
      for (const text of [iso, dotted]) {
        const row = `time\tstate\n${text}\topen\n`;
        const log = readLog(row, { file: 'doors.tsv', zone });
        const read = log.ok ? log.value.firstMs : log.errors.map(({ code }) => code).join();
        expect(read, `${zone} ${text}`).toBe(
          isSkipped ? 'local-time-skipped' : earlier.epochMilliseconds,
        );
        // A skipped time is repaired with the offset from before the clocks went forward, which is the later reading.
        const mended = readLog(row, { file: 'doors.tsv', zone, lenient: true });
        const used = isSkipped ? later : earlier;
        expect(mended.ok && mended.value.firstMs, `${zone} ${text}`).toBe(used?.epochMilliseconds);
      }
    }
  });

  it('that occurs twice is the earlier one, unless the row above it shows that it is the later', () => {
    for (const { zone, local } of around) {
      const [earlierMs = 0, laterMs = 0] = (['earlier', 'later'] as const).map(
        (disambiguation) => local.toZonedDateTime(zone, { disambiguation }).epochMilliseconds,
      );
      const text = local.toString({ smallestUnit: 'minute' });
      const above = new Date(earlierMs + minuteMs).toISOString();
      const log = readLog(`time,state\n${above},open\n${text},shut\n`, { zone });
      const isTwice = laterMs !== earlierMs && log.ok;
      if (isTwice) expect(log.value.lastMs, `${zone} ${text}`).toBe(laterMs);
      else expect(log.ok, `${zone} ${text}`).toBe(false);
    }
  });
});
