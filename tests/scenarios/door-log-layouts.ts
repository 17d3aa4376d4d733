// The same few openings as programs export them: each way to write a time in each layout of rows.
import { Temporal } from 'temporal-polyfill';
import type { DoorLogOptions } from '../../src/scenarios/index.js';
import { forms } from './written-times.js';

type Local = Temporal.PlainDateTime;

/** Starts and lengths: one by night, one past midnight, one across the end of a month. */
const openings = [
  { from: '2026-01-13T09:58:20', seconds: 95 },
  { from: '2026-01-13T23:59:30', seconds: 61 },
  { from: '2026-01-31T12:00:00', seconds: 43_205 },
  { from: '2026-02-25T00:00:05', seconds: 7_200 },
].map(({ from, seconds }) => {
  const start = Temporal.PlainDateTime.from(from);
  return { start, seconds, end: start.add({ seconds }) };
});

const edges = openings.flatMap(({ start, end }) => [
  { at: start, isOpen: true },
  { at: end, isOpen: false },
]);

const stateWords: readonly (readonly [open: string, shut: string])[] = [
  ['open', 'closed'],
  ['1', '0'],
  ['on', 'off'],
  ['True', 'False'],
  ['OPENED', 'Shut'],
  ['opened', 'close'],
  ['auf', 'zu'],
];

interface Given {
  readonly write: (local: Local) => string;
  readonly words: readonly [open: string, shut: string];
  readonly mark: string;
}

/** A layout of rows, by what it is called. */
interface Layout {
  readonly name: string;
  readonly options?: Partial<DoorLogOptions>;
  readonly text: (given: Given) => string;
}

const lines = (...all: readonly (string | readonly string[])[]): string =>
  `${all.flat().join('\n')}\n`;

/** A field that has the mark in it is put in quotes. */
const row = (mark: string, ...fields: readonly string[]): string =>
  fields.map((field) => (field.includes(mark) ? `"${field}"` : field)).join(mark);

const two = (value: number): string => String(value).padStart(2, '0');
const clock = (local: Local): string =>
  `${two(local.hour)}:${two(local.minute)}:${two(local.second)}`;
const spelled = (seconds: number): string =>
  `${String(Math.floor(seconds / 3_600))}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;

const word = ({ words }: Given, isOpen: boolean): string => words[isOpen ? 0 : 1];
const changes = (given: Given, names: readonly string[]): string =>
  lines(
    row(given.mark, ...names),
    edges.map(({ at, isOpen }) => row(given.mark, given.write(at), word(given, isOpen))),
  );

export const layouts: readonly Layout[] = [
  { name: 'time,state', text: (given) => changes(given, ['time', 'state']) },
  { name: 'Timestamp,Door Status', text: (given) => changes(given, ['Timestamp', 'Status']) },
  { name: 'contact', text: (given) => changes(given, ['recorded_at', 'contact']) },
  { name: 'unknown names', text: (given) => changes(given, ['wann', 'was']) },
  {
    name: 'no header',
    text: (given) =>
      lines(edges.map(({ at, isOpen }) => row(given.mark, given.write(at), word(given, isOpen)))),
  },
  {
    name: 'state first, among others',
    text: (given) =>
      lines(
        row(given.mark, 'nr', 'State', 'battery', 'When'),
        edges.map(({ at, isOpen }, nr) =>
          row(given.mark, String(nr + 1), word(given, isOpen), '3.01', given.write(at)),
        ),
      ),
  },
  {
    name: 'start,end',
    text: (given) =>
      lines(
        row(given.mark, 'start', 'end'),
        openings.map(({ start, end }) => row(given.mark, given.write(start), given.write(end))),
      ),
  },
  {
    name: 'opened,duration (s)',
    text: (given) =>
      lines(
        row(given.mark, 'opened', 'duration (s)'),
        openings.map(({ start, seconds }) => row(given.mark, given.write(start), String(seconds))),
      ),
  },
  {
    name: 'end and length',
    options: { endColumn: 'shut', durationColumn: 'lasted' },
    text: (given) =>
      lines(
        row(given.mark, 'shut', 'lasted'),
        openings.map(({ end, seconds }) => row(given.mark, given.write(end), spelled(seconds))),
      ),
  },
  {
    name: 'objects, a line each',
    options: { file: 'doors.ndjson' },
    text: (given) =>
      lines(
        edges.map(({ at, isOpen }) =>
          JSON.stringify({ device: { at: given.write(at) }, state: word(given, isOpen) }),
        ),
      ),
  },
  {
    name: 'a list of objects',
    options: { file: 'doors.json' },
    text: (given) =>
      JSON.stringify(
        openings.map(({ start, end }) => ({ open: given.write(start), close: given.write(end) })),
        null,
        1,
      ),
  },
  {
    name: 'a list of lists',
    options: { file: 'doors.json' },
    text: (given) =>
      JSON.stringify([
        ['time', 'state'],
        ...edges.map(({ at, isOpen }) => [given.write(at), word(given, isOpen)]),
      ]),
  },
  {
    name: 'names and values',
    text: (given) =>
      lines(
        edges.map(
          ({ at, isOpen }) => `time="${given.write(at)}" door=${word(given, isOpen)} rssi=-70`,
        ),
      ),
  },
  {
    name: 'words behind a time',
    text: (given) =>
      lines(edges.map(({ at, isOpen }) => `[${given.write(at)}] ${word(given, isOpen)}`)),
  },
  {
    name: 'a table with bars',
    text: (given) =>
      lines(
        '| time | state |',
        '|------|:-----:|',
        edges.map(({ at, isOpen }) => `| ${given.write(at)} | ${word(given, isOpen)} |`),
      ),
  },
  {
    name: 'a title above',
    text: (given) => lines('Door of the drying room', changes(given, ['time', 'state'])),
  },
  {
    name: 'newest first',
    options: { newestFirst: true },
    text: (given) =>
      lines(
        row(given.mark, 'time', 'state'),
        edges
          .toReversed()
          .map(({ at, isOpen }) => row(given.mark, given.write(at), word(given, isOpen))),
      ),
  },
  {
    name: 'the date beside the time',
    text: (given) =>
      lines(
        row(given.mark, 'date', 'time', 'state'),
        edges.map(({ at, isOpen }) =>
          row(
            given.mark,
            (given.write(at).split(/[ T]/u)[0] ?? '').replace(/,$/u, ''),
            clock(at),
            word(given, isOpen),
          ),
        ),
      ),
  },
];

/** Each form of time in some of the layouts, with some of the words and marks, by turns. */
export function layoutCases(): readonly {
  readonly name: string;
  readonly text: string;
  readonly options: Partial<DoorLogOptions>;
}[] {
  const marks = [',', ';', '\t', '|'];
  return layouts.flatMap(({ name, options = {}, text }, down) =>
    forms.flatMap(({ name: form, write }, across) => {
      if ((down + across) % 4 > 0) return [];
      const words = stateWords[(down * 3 + across) % stateWords.length] ?? ['open', 'shut'];
      const mark = marks[(down + across) % marks.length] ?? ',';
      return [{ name: `${name}, ${form}`, text: text({ write, words, mark }), options }];
    }),
  );
}
