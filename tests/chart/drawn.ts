// A picture taken apart: its elements with their classes and titles, its texts with where they stand.

import { SaxesParser } from 'saxes';
import { type ChartOptions, timelineChart } from '../../src/chart/index.js';
import { type Requirements } from '../../src/model/index.js';
import { defaultWatchFile, type Timeline, type WatchFile } from '../../src/scenarios/index.js';
import { type Experiment, simulate, type Trace } from '../../src/sim/index.js';
import { judge, type Verdict } from '../../src/verdict/index.js';
import { asked } from '../support/experiments.js';

export interface ChartCase {
  readonly timeline: Timeline;
  readonly trace: Trace;
  readonly verdict: Verdict;
  readonly watchFile: WatchFile;
}

export interface CaseSettings {
  readonly name?: string;
  readonly file?: string;
  readonly epochMs?: number;
  readonly timeZone?: string;
  readonly judge?: Requirements;
  readonly notes?: readonly (readonly [number, string])[];
  readonly moves?: Timeline['moves'];
}

/** Monday 4 May 2026, 00:00 at UTC+02:00. */
export const mondayMs = 1_777_845_600_000;
export const minuteMs = 60_000;
export const hourMs = 3_600_000;
export const dayMs = 86_400_000;

/** Runs and judges an experiment, ready to be drawn. */
export function chartCase(experiment: Experiment, settings: CaseSettings = {}): ChartCase {
  const { world, timing, program, seed } = experiment;
  const trace = simulate(experiment, { record: 'all' });
  const judgeSettings = settings.judge ?? asked({ leaveOpenAfterMs: 300_000 });
  return {
    trace,
    verdict: judge(world.openings, trace, judgeSettings),
    timeline: {
      name: settings.name ?? 'The cool store',
      file: settings.file ?? 'cool-store.yaml',
      start: {
        epochMs: settings.epochMs ?? mondayMs,
        timeZone: settings.timeZone ?? 'Europe/Berlin',
      },
      world,
      moves: settings.moves ?? null,
      timing,
      seed,
      expect: null,
      notes: new Map(settings.notes),
      opensAtEnd: false,
      logged: null,
      remarks: [],
    },
    watchFile: { ...defaultWatchFile(), watch: program.watch, judge: judgeSettings },
  };
}

export interface DrawnElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly classes: readonly string[];
  /** Where the element's own zero stands in the picture. */
  readonly originX: number;
  readonly originY: number;
  readonly children: DrawnElement[];
  readonly parent: DrawnElement | null;
  text: string;
}

/** Parses strictly. @throws when the text is not well-formed XML. */
export function takeApart(svg: string): readonly DrawnElement[] {
  const all: DrawnElement[] = [];
  let open: DrawnElement | null = null;
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ name, attributes }) => {
    const [, dx = '0', dy = '0'] =
      /^translate\(([-\d.]+) ([-\d.]+)\)$/u.exec(attributes['transform'] ?? '') ?? [];
    const element: DrawnElement = {
      name,
      attributes,
      classes: (attributes['class'] ?? '').split(' '),
      originX: (open?.originX ?? 0) + Number(dx),
      originY: (open?.originY ?? 0) + Number(dy),
      children: [],
      parent: open,
      text: '',
    };
    open?.children.push(element);
    all.push(element);
    open = element;
  });
  parser.on('text', (text) => {
    if (open !== null) open.text += text;
  });
  parser.on('closetag', () => {
    open = open?.parent ?? null;
  });
  parser.write(svg).close();
  return all;
}

/** Draws and takes apart. */
export function draw(given: ChartCase, options: ChartOptions = {}): readonly DrawnElement[] {
  return takeApart(timelineChart({ ...given, options }));
}

export function ofClass(all: readonly DrawnElement[], name: string): DrawnElement[] {
  return all.filter(({ classes }) => classes.includes(`dw-${name}`));
}

/** The marks in the plots: without the samples of the legend, which have no titles. */
export function marks(all: readonly DrawnElement[], name: string): DrawnElement[] {
  return ofClass(all, name).filter((element) => titleOf(element) !== undefined);
}

/** The title that a pointer on the element shows. */
export function titleOf({ children }: DrawnElement): string | undefined {
  return children.find(({ name }) => name === 'title')?.text;
}

/** All printed words, in the order of the document. */
export function printed(all: readonly DrawnElement[]): string[] {
  return all
    .filter(
      ({ name, children }) =>
        name === 'tspan' || (name === 'text' && children.every((child) => child.name !== 'tspan')),
    )
    .map(({ text }) => text);
}
