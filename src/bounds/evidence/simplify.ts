// A world that shows a bound, made as plain as it still shows it: what it does not need left out, one after the other,
// and what may lie elsewhere moved to round instants.
import type { DeviceTiming } from '../../world/index.js';
import type { BoundsQuestion } from '../question.js';
import { plainTimings } from './plain-timings.js';
import type { Scene, Span } from './scene.js';

/** Whether a scene still shows what it is for. */
export type Shows = (scene: Scene) => boolean;

export function simplified(question: BoundsQuestion, scene: Scene, shows: Shows): Scene {
  let plain = scene;
  const attempt = (candidate: Scene): boolean => {
    if (!shows(candidate)) return false;
    plain = candidate;
    return true;
  };
  leaveOut(() => plain, attempt);
  for (const times of plainTimings(question)) {
    const timing = { ...plain.timing, ...times };
    if (!isPlain(plain.timing)) attempt({ ...plain, timing });
  }
  roundDoor(() => plain, attempt);
  roundOutages(question, () => plain, attempt);
  return plain;
}

function isPlain({ bootTime, connectTime, clockError }: DeviceTiming): boolean {
  return bootTime.kind === 'fixed' && connectTime.kind === 'fixed' && clockError.kind !== 'sleeps';
}

type Attempt = (candidate: Scene) => boolean;

/** From the last one back, so that what is left keeps its number. */
function leaveOut(current: () => Scene, attempt: Attempt): void {
  const parts = [
    ...(['openings', 'powerLost', 'resets'] as const),
    ...(['networkDown', 'batteryLow', 'contactFaults'] as const),
  ] as const;
  for (const part of parts) {
    // The last opening is the one in question.
    const kept = part === 'openings' ? 1 : 0;
    for (let index = current()[part].length - 1 - kept; index >= 0; index -= 1) {
      attempt({ ...current(), [part]: current()[part].toSpliced(index, 1) });
    }
  }
}

const unitsMs = [600_000, 60_000, 30_000, 10_000, 1_000, 100] as const;

/** Round instants near one, the roundest first. */
function roundNear(ms: number): readonly number[] {
  return unitsMs.flatMap((unit) => {
    const below = Math.floor(ms / unit) * unit;
    return below === ms ? [ms] : [below, below + unit];
  });
}

function roundDoor(current: () => Scene, attempt: Attempt): void {
  for (let index = current().openings.length - 2; index >= 0; index -= 1) {
    for (const side of [1, 0] as const) {
      const now = current().openings[index]?.[side];
      if (now === undefined) continue;
      for (const ms of roundNear(now)) {
        if (ms === now) break;
        const openings = movedEdge(current().openings, index, { side, ms });
        if (openings !== null && attempt({ ...current(), openings })) break;
      }
    }
  }
}

/** Null where openings would touch, or one would be gone. */
function movedEdge(
  openings: readonly Span[],
  index: number,
  to: { readonly side: 0 | 1; readonly ms: number },
): readonly Span[] | null {
  const [from, until] = openings[index] ?? [0, 0];
  const moved: Span = to.side === 0 ? [to.ms, until] : [from, to.ms];
  const afterMs = openings[index - 1]?.[1] ?? -1;
  const beforeMs = openings[index + 1]?.[0] ?? Number.POSITIVE_INFINITY;
  const fits = moved[0] > afterMs && moved[0] < moved[1] && moved[1] < beforeMs;
  return fits ? openings.with(index, moved) : null;
}

function roundOutages(
  { environment }: BoundsQuestion,
  current: () => Scene,
  attempt: Attempt,
): void {
  const fits = ([from, to]: Span, index: number): boolean => {
    const { networkDown } = current();
    const apartMs = Math.max(1, environment.outagesApartMs);
    const leastMs = index === 0 ? 0 : (networkDown[index - 1]?.[1] ?? 0) + apartMs;
    const mostMs = (networkDown[index + 1]?.[0] ?? Number.POSITIVE_INFINITY) - apartMs;
    if (from < leastMs || to > mostMs) return false;
    return from < to && to - from <= environment.longestOutageMs;
  };
  current().networkDown.forEach(([fromMs, toMs], index) => {
    for (const from of roundNear(fromMs)) {
      for (const to of roundNear(toMs)) {
        if (!fits([from, to], index)) continue;
        const networkDown = current().networkDown.with(index, [from, to]);
        if (attempt({ ...current(), networkDown })) return;
      }
    }
  });
}
