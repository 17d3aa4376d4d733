// What is under way at the door: the step, its clock, its messages, and what was noted of the steps before.
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { DrillData } from '../drill-data.js';
import { atFirst, keepProgress, keptProgress, type Progress } from './progress.js';
import { type SignalChoice, signal, signalBetween, wakeSound } from './signal.js';

/** Without its battery for this long, so that the device forgets. */
export const countInMs = 10_000;
/** Looks at the clock this often. */
const lookMs = 100;

export interface Door {
  readonly progress: Progress;
  /** Since the power-on of the step, negative before it; null: no step is under way. */
  readonly nowMs: number | null;
  readonly choice: SignalChoice;
  readonly isFlashing: boolean;
  readonly choose: (choice: SignalChoice) => void;
  readonly start: () => void;
  readonly stop: () => void;
  readonly goTo: (step: number) => void;
  readonly note: () => void;
  readonly takeBack: (index: number) => void;
  readonly testSignal: () => void;
  readonly forget: () => void;
}

/** Steps last through a reload of the page and a device that dozes: so the clock is the one on the wall. */
function wallMs(): number {
  return window.Date.now();
}

export function useDoor(data: DrillData): Door {
  const [progress, setProgress] = useState(() => keptProgress(data));
  const [choice, choose] = useState<SignalChoice>({ sound: true, vibration: true, flash: true });
  const [wall, setWall] = useState(wallMs);
  const [isFlashing, setFlashing] = useState(false);
  const flash = (ms: number): void => {
    setFlashing(true);
    window.setTimeout(() => setFlashing(false), ms);
  };
  // Two presses may come before the page is drawn again: each goes on from what the one before left.
  const latest = useRef(progress);
  const change = (to: (from: Progress) => Progress): void => {
    latest.current = to(latest.current);
    keepProgress(data, latest.current);
    setProgress(latest.current);
  };
  const { zeroMs } = progress;
  useTicks(zeroMs !== null, (before, now) => {
    setWall(now);
    if (zeroMs === null) return;
    const step = data.steps[progress.step];
    const actions = step?.actions.map(({ atMs }) => atMs) ?? [];
    const due = signalBetween(actions, before - zeroMs, now - zeroMs);
    if (due !== null) signal(due, choice, flash);
    if (step !== undefined && now - zeroMs >= step.endsMs + afterEndMs) {
      change((from) => ended(data, from));
    }
  });
  useAwakeScreen(zeroMs !== null);
  const calm = { zeroMs: null, seenMs: [] };
  return {
    progress,
    nowMs: zeroMs === null ? null : Math.max(wall - zeroMs, -countInMs),
    choice,
    isFlashing,
    choose,
    start: () => {
      wakeSound();
      const now = wallMs();
      setWall(now);
      document.getElementById('door')?.scrollIntoView();
      change((from) => ({ ...from, zeroMs: now + countInMs, seenMs: [] }));
    },
    stop: () => change((from) => ({ ...from, ...calm })),
    goTo: (step) => change((from) => ({ ...from, ...calm, step })),
    note: () => {
      const now = wallMs();
      change((from) => {
        const atMs = now - (from.zeroMs ?? Number.POSITIVE_INFINITY);
        return atMs < 0 ? from : { ...from, seenMs: [...from.seenMs, atMs] };
      });
    },
    takeBack: (index) =>
      change((from) => ({ ...from, seenMs: from.seenMs.filter((_, other) => other !== index) })),
    testSignal: () => {
      wakeSound();
      signal('long', choice, flash);
    },
    forget: () => change(() => atFirst),
  };
}

/** A message at the last moment can still be noted. */
const afterEndMs = 3_000;

/** The step is noted, and the next that was not done is up. */
function ended({ steps }: DrillData, { step, seenMs, noted }: Progress): Progress {
  const all = new Map([...noted, [step, seenMs]]);
  const order = steps.map((_, index) => (step + 1 + index) % steps.length);
  const next = order.find((index) => !all.has(index)) ?? step;
  return { step: next, zeroMs: null, seenMs: [], noted: all };
}

/** Calls often while something is under way, with the instants of the last look and of this one. */
function useTicks(runs: boolean, look: (beforeMs: number, nowMs: number) => void): void {
  const latest = useRef(look);
  latest.current = look;
  useLayoutEffect(() => {
    if (!runs) return;
    let before = wallMs();
    const timer = window.setInterval(() => {
      const now = wallMs();
      latest.current(before, now);
      before = now;
    }, lookMs);
    return () => window.clearInterval(timer);
  }, [runs]);
}

/** A phone that dozes would give no signal. Where the browser cannot keep the screen on, the page says to do it. */
function useAwakeScreen(runs: boolean): void {
  useEffect(() => {
    if (!runs || !('wakeLock' in navigator)) return;
    const lock = navigator.wakeLock.request('screen').catch(() => null);
    return () => void lock.then((one) => one?.release());
  }, [runs]);
}
