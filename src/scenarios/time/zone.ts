// Time zones: which there are, and how far local time is ahead of UTC at an instant. Asking the zone database
// takes long, so each zone remembers the stretches between its transitions.
import { Temporal } from 'temporal-polyfill';
import { bad, type Decoded, good } from '../text/problem.js';
import { didYouMean } from '../text/suggest.js';

/** A stretch of true time, `[fromMs, toMs)` since the epoch, with one offset. */
interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
  readonly offsetMs: number;
}

/** A zone whose offsets are cheap to ask for. */
export interface Zone {
  /** An IANA name, or an offset such as `+02:00`. */
  readonly name: string;
  /** Milliseconds by which local time is ahead of UTC at an instant. */
  offsetMs(epochMs: number): number;
}

const known = new Map<string, Zone>();
const mostKnown = 1_000;
const mostStretches = 1_000;

/** Finds a zone by its name or offset. Error: `unknown-zone`. */
export function readZone(text: string): Decoded<Zone> {
  const written = text.trim();
  const found = known.get(text);
  if (found !== undefined) return good(found);
  const fixed = fixedOffset(written);
  let zone: Zone;
  if (fixed === null) {
    const name = zoneName(written);
    if (name === null) {
      const expected = 'an IANA zone such as Europe/Lisbon, or an offset such as +02:00';
      const hint = zoneMeant(written);
      return bad('unknown-zone', 'is not a known time zone', { found: text, expected, hint });
    }
    zone = namedZone(name);
  } else {
    zone = { name: offsetText(fixed), offsetMs: () => fixed };
  }
  if (known.size >= mostKnown) known.clear();
  known.set(text, zone);
  return good(zone);
}

/** The zone that was most likely meant: one with this place, or one written nearly so. */
function zoneMeant(written: string): string | undefined {
  const names = Intl.supportedValuesOf('timeZone');
  const place = written.toLowerCase().replaceAll(/[\s-]/gu, '_');
  const there = names.find((name) => name.toLowerCase().endsWith(`/${place}`));
  return there === undefined ? didYouMean(written, names) : `did you mean ${there}?`;
}

function zoneName(written: string): string | null {
  if (!/^[A-Za-z][\w+/-]{0,60}$/.test(written)) return null;
  try {
    return Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(written).timeZoneId;
  } catch {
    return null;
  }
}

/** `+02:00`, `+0200`, `-03`, `Z` as milliseconds; null when it is none of these. */
export function fixedOffset(written: string): number | null {
  if (written === 'Z' || written === 'z') return 0;
  const [, sign, hours, minutes = '00'] = /^([+-])(\d{2})(?::?(\d{2}))?$/.exec(written) ?? [];
  if (hours === undefined || Number(hours) > 23 || Number(minutes) > 59) return null;
  const size = (Number(hours) * 60 + Number(minutes)) * 60_000;
  return sign === '-' && size !== 0 ? -size : size;
}

const offsetTexts = new Map<number, string>();

/** `+02:00`; with seconds where a zone's old local time had them. */
export function offsetText(offsetMs: number): string {
  const found = offsetTexts.get(offsetMs);
  if (found !== undefined) return found;
  const text = writeOffset(offsetMs);
  if (offsetTexts.size >= mostKnown) offsetTexts.clear();
  offsetTexts.set(offsetMs, text);
  return text;
}

function writeOffset(offsetMs: number): string {
  const size = Math.abs(Math.round(offsetMs / 1_000));
  const two = (value: number): string => String(value).padStart(2, '0');
  const seconds = size % 60;
  const text = `${two(Math.floor(size / 3_600))}:${two(Math.floor(size / 60) % 60)}`;
  return `${offsetMs < 0 ? '-' : '+'}${text}${seconds === 0 ? '' : `:${two(seconds)}`}`;
}

function namedZone(name: string): Zone {
  let stretches: Stretch[] = [];
  let latest: Stretch = { fromMs: 0, toMs: 0, offsetMs: 0 };
  const holds = ({ fromMs, toMs }: Stretch, epochMs: number): boolean =>
    fromMs <= epochMs && epochMs < toMs;
  return {
    name,
    offsetMs(epochMs) {
      if (holds(latest, epochMs)) return latest.offsetMs;
      let stretch = stretches.find((candidate) => holds(candidate, epochMs));
      if (stretch === undefined) {
        stretch = stretchAt(name, epochMs);
        if (stretches.length >= mostStretches) stretches = [];
        stretches.push(stretch);
      }
      latest = stretch;
      return stretch.offsetMs;
    },
  };
}

function stretchAt(name: string, epochMs: number): Stretch {
  const at = Temporal.Instant.fromEpochMilliseconds(epochMs).toZonedDateTimeISO(name);
  // "Previous" means before: one nanosecond on, a transition at this very instant counts.
  const previous = at.add({ nanoseconds: 1 }).getTimeZoneTransition('previous');
  const next = at.getTimeZoneTransition('next');
  return {
    fromMs: previous?.epochMilliseconds ?? Number.NEGATIVE_INFINITY,
    toMs: next?.epochMilliseconds ?? Number.POSITIVE_INFINITY,
    offsetMs: at.offsetNanoseconds / 1_000_000,
  };
}
