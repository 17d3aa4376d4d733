// Options that may be given again and again, each time with one value.
import type { LogCondition } from '../../scenarios/index.js';
import { problem } from '../problem.js';

/** Their names; giving any other option twice is a slip. */
export const repeatable: ReadonlySet<string> = new Set([
  '--where',
  '--calibrate',
  '--include',
  '--define',
  '--open-word',
  '--shut-word',
  '--unavailable-word',
  '--device-event-word',
  '--prior',
]);

/** Adds the next value of an option to those before. */
export function collected(value: string, before: readonly string[] | undefined): readonly string[] {
  return [...(before ?? []), value];
}

/** The conditions that `--where` gives. @throws InputProblem for one without a column and a value. */
export function conditionsOf(texts: readonly string[] | undefined): readonly LogCondition[] {
  return (texts ?? []).map((text) => {
    const end = text.indexOf('=');
    const column = text.slice(0, Math.max(end, 0)).trim();
    if (column !== '') return { column, value: text.slice(end + 1) };
    throw problem('where-unreadable', '--where', {
      message: 'this is not a column and a value',
      found: text,
      expected: 'column=value, such as sensor=hatch',
    });
  });
}
