// The fields of the planner: every setting of the watch file, and how the door is used.
import { leastOf } from '../base/index.js';
import { allSettings, headings, type Setting } from '../model/index.js';
import { parseDuration } from '../scenarios/index.js';

/** Usage stands behind what is required of the watch. */
export const groups = headings.flatMap((heading) =>
  heading === 'Requirements' ? ([heading, 'Usage'] as const) : [heading],
);
export type Group = (typeof groups)[number];

export interface Field {
  /** `watch.checkInterval` */
  readonly key: string;
  readonly label: string;
  readonly group: Group;
  readonly control:
    | { readonly kind: 'text' }
    /** A text that may be longer than a number and a unit; `such` is one. */
    | { readonly kind: 'line'; readonly such: string }
    | { readonly kind: 'choice'; readonly choices: readonly string[] }
    /** A slider over these, and a field for anything between. */
    | { readonly kind: 'steps'; readonly steps: readonly string[] };
}

function controlOf({ row, isInOptional }: Setting): Field['control'] {
  if (row.kind === 'flag') return { kind: 'choice', choices: ['true', 'false'] };
  // Where none of the words need hold, none is a choice.
  if (row.kind === 'word') {
    const mayBeEmpty = isInOptional || row.default === undefined;
    return { kind: 'choice', choices: mayBeEmpty ? ['', ...row.words] : row.words };
  }
  if (row.steps !== undefined) return { kind: 'steps', steps: row.steps };
  return row.such === undefined ? { kind: 'text' } : { kind: 'line', such: row.such };
}

const usage: readonly Field[] = [
  {
    key: 'usage.openingsPerDay',
    label: 'Openings per day',
    group: 'Usage',
    control: { kind: 'steps', steps: '1 2 5 10 15 20 30 50 100 200'.split(' ') },
  },
  {
    key: 'usage.leaveOpenShare',
    label: 'Of them left open',
    group: 'Usage',
    control: { kind: 'steps', steps: '0% 0.5% 1% 2% 3% 5% 10% 20% 50%'.split(' ') },
  },
];

export const fields: readonly Field[] = [
  ...allSettings.map((setting): Field => {
    const { key, row, heading } = setting;
    return { key, label: row.label, group: heading, control: controlOf(setting) };
  }),
  ...usage,
];

const byKey = new Map(fields.map((field) => [field.key, field]));

export function fieldNamed(key: string): Field | undefined {
  return byKey.get(key);
}

/** The index of the step that comes nearest, on a scale of factors. */
export function nearestStep(steps: readonly string[], written: string): number {
  const wanted = sizeOf(written);
  if (wanted === null) return 0;
  const offs = steps.map((step) =>
    Math.abs(Math.log((sizeOf(step) ?? 0) + 1e-9) - Math.log(wanted + 1e-9)),
  );
  return offs.indexOf(leastOf(offs));
}

/** How much a text says, in whatever unit: steps of one slider share theirs. */
function sizeOf(text: string): number | null {
  const duration = parseDuration(text, { file: '' });
  if (duration.ok) return duration.value;
  const size = Number.parseFloat(text);
  return Number.isNaN(size) ? null : size;
}
