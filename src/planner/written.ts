// What a field of the planner holds, as text and as a watch file holds it. Either way loses nothing: a value that has no
// short form is written as the file could write it, `{ firstDay: 5%, perMonth: 2% }`.
import { flowText, flowValue } from '../scenarios/index.js';

/** Without a field on the page: it goes along, so that an editor still checks the file that is taken out. */
export const schemaKey = '$schema';

/** How a field writes what is more than one word or number. */
export type Form =
  /** As the file does. */
  | 'plain'
  /** `3s..9s` */
  | 'range'
  /** `2/3`: two open checks out of the last three */
  | 'threshold'
  /** `31mA`, `31mA for 2s`, `3.8mC` */
  | 'activity'
  /** `-20C: 8%, 25C: 0%` */
  | 'errorCurve'
  /** `0C: 80%, 20C: 100%` */
  | 'derating'
  /** `100%: 4.2V, 0%: 3V` */
  | 'voltages';

/** A list of points: the keys of one under which the file keeps its two halves. */
const points = {
  errorCurve: ['celsius', 'error'],
  derating: ['celsius', 'share'],
  voltages: ['left', 'voltage'],
} as const;

type PointForm = keyof typeof points;

function isPointForm(form: Form): form is PointForm {
  return Object.hasOwn(points, form);
}

/** The value of a field's text, as a parsed file holds it. What cannot be read stays text, for the file's definition to refuse. */
export function valueOf(written: string, form: Form): unknown {
  const text = written.trim();
  if (/^[[{]/u.test(text)) return flowValue(text);
  return shortValue(text, form) ?? scalarOf(text);
}

function scalarOf(text: string): unknown {
  if (/^[+-]?[\d.]{1,30}$/u.test(text) && !Number.isNaN(Number(text))) return Number(text);
  return text === 'true' ? true : text === 'false' ? false : text;
}

function shortValue(text: string, form: Form): unknown {
  if (form === 'threshold') return thresholdOf(text);
  if (form === 'activity') return activityOf(text);
  if (isPointForm(form) && text.includes(':')) {
    const list = pointsOf(text, points[form]);
    return form === 'errorCurve' ? { byTemperature: list } : list;
  }
  return form === 'range' || form === 'errorCurve' ? rangeOf(text) : null;
}

function rangeOf(text: string): unknown {
  const [min, max, ...more] = text.split('..').map((part) => part.trim());
  if (min === undefined || max === undefined || more.length > 0) return null;
  return min === '' || max === '' ? null : { min, max };
}

function thresholdOf(text: string): unknown {
  const [open, outOf, ...more] = text.split('/').map((part) => part.trim());
  const isCount = (part: string | undefined): boolean => /^\d{1,9}$/u.test(part ?? '');
  if (!isCount(open) || !isCount(outOf) || more.length > 0) return null;
  return { open: Number(open), outOf: Number(outOf) };
}

function activityOf(text: string): unknown {
  if (text === '') return null;
  const [amount = '', time, ...more] = text.split(' for ').map((part) => part.trim());
  if (more.length > 0) return null;
  if (/(?:C|Ah)$/u.test(amount)) return time === undefined ? { charge: amount } : null;
  return time === undefined ? { current: amount } : { current: amount, time };
}

function pointsOf(text: string, [at, value]: readonly [string, string]): unknown {
  return text.split(',').map((point) => {
    const colon = point.indexOf(':');
    const first = (colon < 0 ? point : point.slice(0, colon)).trim();
    const second = colon < 0 ? '' : point.slice(colon + 1).trim();
    return { [at]: at === 'celsius' ? celsiusOf(first) : first, [value]: second };
  });
}

function celsiusOf(text: string): unknown {
  return scalarOf(text.replace(/\s?°?C$/u, ''));
}

/** The text of a value that `valueOf` reads back as the same. */
export function writtenOf(value: unknown, form: Form): string {
  if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean') {
    return String(value);
  }
  const short = shortText(value, form);
  const isSame = short !== null && isEqual(valueOf(short, form), value);
  return isSame ? short : flowText(value);
}

function shortText(value: unknown, form: Form): string | null {
  if (form === 'threshold') return joined(value, ['open', 'outOf'], '/');
  if (form === 'range') return joined(value, ['min', 'max'], '..');
  if (form === 'activity') {
    return (
      joined(value, ['charge'], '') ??
      joined(value, ['current', 'time'], ' for ') ??
      joined(value, ['current'], '')
    );
  }
  if (form === 'errorCurve') {
    const curve: unknown = isRecord(value) ? value['byTemperature'] : undefined;
    return pointsText(curve, points.errorCurve) ?? joined(value, ['min', 'max'], '..');
  }
  return isPointForm(form) ? pointsText(value, points[form]) : null;
}

/** The values of exactly these keys, with something between them. */
function joined(value: unknown, keys: readonly string[], between: string): string | null {
  if (!isRecord(value) || Object.keys(value).length !== keys.length) return null;
  const parts = keys.map((key) => value[key]);
  return parts.every((part) => typeof part === 'string' || typeof part === 'number')
    ? parts.join(between)
    : null;
}

function pointsText(value: unknown, [at, half]: readonly [string, string]): string | null {
  if (!Array.isArray(value) || value.length === 0) return null;
  const texts = value.map((point: unknown) =>
    joined(point, [at, half], at === 'celsius' ? 'C: ' : ': '),
  );
  return texts.includes(null) ? null : texts.join(', ');
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isEqual(one: unknown, other: unknown): boolean {
  if (Array.isArray(one) && Array.isArray(other)) {
    return one.length === other.length && one.every((item, index) => isEqual(item, other[index]));
  }
  if (!isRecord(one) || !isRecord(other)) return one === other;
  const keys = Object.keys(one);
  return (
    keys.length === Object.keys(other).length && keys.every((key) => isEqual(one[key], other[key]))
  );
}
