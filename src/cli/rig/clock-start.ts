// What a device's clock reads at power-on, as an option: a duration, or one counted from where a counter wraps, such as 2^32ms-1h.
import { mostClockStartMs } from '../../model/index.js';
import { parseDuration } from '../../scenarios/index.js';
import { problem } from '../problem.js';

const option = '--clock-starts-at';
const unitsMs: Readonly<Record<string, number>> = {
  us: 0.001,
  µs: 0.001,
  ms: 1,
  s: 1_000,
  m: 60_000,
  min: 60_000,
  h: 3_600_000,
  d: 86_400_000,
};

/** @throws InputProblem for what is neither a duration nor a sum of durations and powers of two. */
export function clockStartOf(text: string): number {
  const parts = text.trim().match(/[+-]?[^+-]+/gu) ?? [];
  if (parts.length === 0 || parts.join('') !== text.trim()) throw unreadable(text);
  const ms = Math.round(parts.reduce((sum, part) => sum + partMs(part, text), 0));
  if (ms >= 0 && ms <= mostClockStartMs) return ms;
  throw problem('out-of-range', option, {
    message: "the device's clock must start at 0 or later, and before 2^52ms",
    found: text,
  });
}

function partMs(part: string, text: string): number {
  const sign = part.startsWith('-') ? -1 : 1;
  const bare = part.replace(/^[+-]/u, '').trim();
  const [, bits = '', unit = ''] = /^2\^(\d{1,2})\s*([a-zµ]+)$/u.exec(bare) ?? [];
  const unitMs = unitsMs[unit];
  if (bits !== '' && unitMs !== undefined) return sign * 2 ** Number(bits) * unitMs;
  const duration = parseDuration(bare, { file: option });
  if (!duration.ok) throw unreadable(text);
  return sign * duration.value;
}

function unreadable(text: string) {
  return problem('clock-start-unreadable', option, {
    message: 'this is not a time on a clock',
    found: text,
    expected: 'a duration, or one counted from a power of two, such as 2^32ms-1h or 2^31us',
  });
}
