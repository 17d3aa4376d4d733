// What the environment of a certificate lets a course do.
import { checksumOf } from './checksum.js';
import type { Course, Span } from './format.js';
import { refuse } from './refusal.js';
import type { Rules } from './rules.js';

/** More instants than any course needs. */
const mostInstants = 10_000;

/** @throws RefusedError when a course was changed, or asks for more than can go wrong. */
export function refuseUnlikely({ environment }: Rules, course: Course, place: string): void {
  const { opensAtMs, doorOpenMs, networkDownMs, powerLostMs, resetsMs, readsShutMs } = course;
  const stated = checksumOf(course);
  if (stated !== course.checksum) {
    refuse(`${place}/checksum`, 'this course was changed after it was written', {
      found: course.checksum,
      expected: stated,
    });
  }
  for (const [name, list] of Object.entries<unknown>({ ...course })) {
    if (Array.isArray(list) && list.length > mostInstants)
      refuse(`${place}/${name}`, 'no course needs as many');
  }
  refuseUnsorted([...doorOpenMs.flat(), opensAtMs], `${place}/doorOpenMs`);
  refuseUnsorted(powerLostMs.flat(), `${place}/powerLostMs`);
  refuseUnsorted(resetsMs, `${place}/resetsMs`);
  const limits: readonly (readonly [name: string, found: number, most: number])[] = [
    ['networkDownMs', wholeSpanMs(networkDownMs), environment.longestOutageMs],
    ['readsShutMs', wholeSpanMs(readsShutMs), environment.longestChatterMs],
    ['powerLostMs', powerLostMs.length, environment.powerLosses],
    ['powerLostMs', longestMs(powerLostMs), environment.longestPowerLossMs],
    ['resetsMs', resetsMs.length, environment.resets],
  ];
  for (const [name, found, most] of limits) {
    if (found <= most) continue;
    const expected = `at most ${String(most)}`;
    refuse(`${place}/${name}`, 'the environment cannot do that much', { found, expected });
  }
}

function longestMs(spans: readonly Span[]): number {
  return Math.max(0, ...spans.map(([from, to]) => to - from));
}

/** From the start of the first to the end of the last. */
function wholeSpanMs(spans: readonly Span[]): number {
  const instants = spans.flat();
  return instants.length === 0 ? 0 : Math.max(...instants) - Math.min(...instants);
}

function refuseUnsorted(instants: readonly number[], place: string): void {
  const wrong = instants.findIndex((atMs, index) => atMs <= (instants[index - 1] ?? -1));
  if (wrong < 0) return;
  refuse(place, 'instants stand in their order, no two alike', { found: instants[wrong] });
}
