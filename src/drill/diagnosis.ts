// Which mistakes can give what was recorded: not only the steps that failed, but the messages that came in every step that was
// tried, and when. A mistake is tried with the devices and people at the corners of a step and with cases drawn between them;
// runs whose messages come from the same wakes span the times that lie between them.
import { greatestOf, itemAt, leastOf } from '../base/index.js';
import { type MutantProgram, mutantPrograms } from '../mutants/index.js';
import { type Program, simulate, type WakeRecord } from '../sim/index.js';
import { type Corner, cornersOf, drawnCases, withTurns } from './corners.js';
import type { DrillProgress, DrillQuestion, Step } from './plan.js';
import { type Scene, sceneOf } from './play.js';
import type { StepResult } from './record.js';

export interface Diagnosis {
  /** Names of mistakes with each of which a device can give the whole record. */
  readonly mistakes: readonly string[];
  /** The same of each step that failed, taken alone, by its number from 1. */
  readonly ofStep: ReadonlyMap<number, readonly string[]>;
  /** Steps without a single message of those that were due, though messages came in others. */
  readonly silent: readonly number[];
  /** What can give the record without those steps. */
  readonly apart: readonly string[];
}

/** Devices and people drawn, besides those at the corners. */
const drawn = 60;
/** The same where a mistake gives every other step: with it, an action may meet the device awake in one case of a hundred. */
const drawnOnce = 360;

/** A step that was tried. */
interface Tried {
  readonly step: Step;
  readonly result: StepResult;
}

export function* diagnosed(
  question: DrillQuestion,
  steps: readonly Step[],
  results: readonly StepResult[],
): Generator<DrillProgress, Diagnosis> {
  const doing = 'comparing the record with mistakes';
  yield { doing, share: null };
  const tried = steps.flatMap((step, index): Tried[] => {
    const result = results[index];
    return result === undefined || result.outcome === 'not-tried' ? [] : [{ step, result }];
  });
  const failed = tried.filter(({ result }) => result.outcome === 'failed');
  const isLoud = results.some(({ seenMs }) => seenMs.length > 0);
  const isSilent = ({ result }: Tried): boolean =>
    isLoud && result.outcome === 'failed' && result.seenMs.length === 0;
  const { reset, program, timing } = question;
  const faults = mutantPrograms(program, timing, reset.button !== 'clears').filter(
    ({ alike }) => !alike,
  );
  const gives = comparison(question);
  const mistakes: string[] = [];
  const apart: string[] = [];
  const ofStep = new Map(failed.map(({ result }): [number, string[]] => [result.step, []]));
  for (const [done, fault] of faults.entries()) {
    yield { doing, share: done / faults.length };
    const { name } = fault.fault;
    if (gives.all(fault, tried)) mistakes.push(name);
    const spoken = tried.filter((one) => !isSilent(one));
    if (gives.all(fault, spoken)) apart.push(name);
    for (const one of failed) {
      if (gives.one(fault, one)) ofStep.get(one.result.step)?.push(name);
    }
  }
  const silent = failed.filter(isSilent).map(({ result }) => result.step);
  return { mistakes, ofStep, silent, apart };
}

/** Compares mistakes with steps, each with each once. */
function comparison(question: DrillQuestion) {
  const scenes = new Map<Step, readonly Scene[]>();
  const scenesFor = (step: Step): readonly Scene[] => {
    const known = scenes.get(step) ?? scenesOf(question, step, { from: 0, to: drawn });
    scenes.set(step, known);
    return known;
  };
  const found = new Map<string, boolean>();
  const one = ({ fault, program }: MutantProgram, tried: Tried): boolean => {
    const key = `${fault.name} ${String(tried.result.step)}`;
    const known = found.get(key) ?? canGive(program, tried, [scenesFor(tried.step), question]);
    found.set(key, known);
    return known;
  };
  const all = (faulty: MutantProgram, some: readonly Tried[]): boolean => {
    const misses: Tried[] = [];
    for (const tried of some) {
      if (!one(faulty, tried)) misses.push(tried);
      if (misses.length > 1) return false;
    }
    const [miss] = misses;
    if (miss === undefined) return true;
    const more = scenesOf(question, miss.step, { from: drawn, to: drawnOnce });
    const gives = canGive(faulty.program, miss, [more, question]);
    found.set(`${faulty.fault.name} ${String(miss.result.step)}`, gives);
    return gives;
  };
  return { one, all };
}

/** Everybody who may do a step: at first those as early or as late as can be, throughout or from an action on, then people between. */
function scenesOf(
  question: DrillQuestion,
  { actions, endsMs, toleranceMs }: Step,
  { from, to }: { readonly from: number; readonly to: number },
): readonly Scene[] {
  const { timing } = question;
  const cases = drawnCases(timing, toleranceMs, { actions: actions.length, count: to });
  const corners: readonly Corner[] = [
    ...(from === 0 ? withTurns(cornersOf(timing, toleranceMs), actions.length) : []),
    ...cases.slice(from),
  ];
  return corners.map((corner) => sceneOf({ actions, endsMs, corner, question }));
}

/** Whether a device with a mistake can give the messages that were recorded of a step, when they were. */
function canGive(
  program: Program,
  { step: { endsMs }, result }: Tried,
  [scenes, { toleranceMs }]: readonly [readonly Scene[], DrillQuestion],
): boolean {
  const seenMs = result.seenMs.filter((atMs) => atMs <= endsMs).sort((a, b) => a - b);
  const alike = new Map<string, number[][]>();
  const put = (messages: readonly Message[]): void => {
    if (messages.length !== seenMs.length) return;
    const key = messages.map(({ wake }) => wake).join();
    const spans = alike.get(key) ?? messages.map(() => []);
    for (const [index, { atMs }] of messages.entries()) spans[index]?.push(atMs);
    alike.set(key, spans);
  };
  for (const scene of scenes) {
    const messages = messagesBy(program, scene);
    put(messages);
    // One that comes as the step ends may be noted after its end, or cut off by it.
    const sure = messages.filter(({ atMs }) => atMs < endsMs - toleranceMs);
    if (sure.length < messages.length) put(sure);
  }
  return [...alike.values()].some((spans) =>
    spans.every((ms, index) => {
      const fromMs = Math.floor((leastOf(ms) - toleranceMs) / 1_000) * 1_000;
      const toMs = Math.ceil((greatestOf(ms) + toleranceMs) / 1_000) * 1_000;
      const atMs = itemAt(seenMs, index);
      return atMs >= fromMs && atMs <= toMs;
    }),
  );
}

interface Message {
  /** Of the wakes of its run, the one that delivered it. */
  readonly wake: number;
  readonly atMs: number;
}

/** The messages of a run, in order. */
function messagesBy(program: Program, scene: Scene): readonly Message[] {
  const messages: Message[] = [];
  let wake = 0;
  for (const one of simulate({ program, ...scene, seed: 'drill' }).wakes) {
    const atMs = deliveredMs(one);
    for (let index = 0; atMs !== null && index <= one.repeats; index += 1) {
      messages.push({ wake: wake + index, atMs: atMs + index * one.periodMs });
    }
    wake += one.repeats + 1;
  }
  return messages;
}

function deliveredMs({ alertSend }: WakeRecord): number | null {
  return alertSend?.outcome === 'delivered' ? alertSend.endMs : null;
}
