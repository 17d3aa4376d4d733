// The worker of the page: the page's own script once more, from a blob, so that the page stays one file.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Curve } from '../../bounds/index.js';
import { initialState, type PlannerState } from '../state.js';
import { type Answer, isAnswerTo, type Task } from './tasks.js';

export interface Answers {
  readonly bounds: Answer<'bounds'> | null;
  readonly years: Answer<'years'> | null;
}

/** A search for settings takes long, so it is begun by hand; what it found stays until the next. */
export function useFront(
  state: PlannerState,
  widthPx: number,
): {
  readonly answer: Answer<'front'> | null;
  readonly search: () => void;
} {
  const [answer, setAnswer] = useState<Answer<'front'> | null>(null);
  const running = useRef<Worker | null>(null);
  const search = (): void => {
    running.current?.terminate();
    running.current = ask({ id: 0, kind: 'front', state: withoutDoor(state), widthPx }, setAnswer);
  };
  return { answer, search };
}

/**
 * Starts again whenever the question or the room for its pictures changes; work in progress is dropped.
 * @param ghost the curve before the last change, which the new one is drawn over
 */
export function useAnswers(
  state: PlannerState,
  isSound: boolean,
  ghost: Curve | undefined,
  widthPx: number,
): Answers {
  const [answers, setAnswers] = useState<Answers>({ bounds: null, years: null });
  const latest = useRef(0);
  useEffect(() => {
    if (!isSound) return undefined;
    latest.current += 1;
    const id = latest.current;
    const workers: Worker[] = [];
    const asked = withoutDoor(state);
    const begin = (kind: keyof Answers): void => {
      const keep = (answer: Answer<keyof Answers>): void => {
        setAnswers((known) => ({ ...known, [answer.kind]: answer }));
      };
      workers.push(ask({ id, kind, state: asked, widthPx, ghost }, keep));
    };
    // While a hand still moves, nothing long is begun.
    const soon = window.setTimeout(() => {
      begin('bounds');
      begin('years');
    }, 350);
    return () => {
      window.clearTimeout(soon);
      for (const worker of workers) worker.terminate();
    };
  }, [state, isSound, widthPx]);
  return answers;
}

/**
 * How wide the results are: pictures are drawn for it, so that their letters keep their size. To ask an element forces the page to be
 * laid out at once; an observer hears of it after the page has done so by itself.
 */
export function useResultsWidth(results: { readonly current: HTMLElement | null }): number {
  const [widthPx, setWidthPx] = useState(() => Math.min(960, window.innerWidth));
  useEffect(() => {
    if (results.current === null) return undefined;
    const observer = new ResizeObserver(([entry]) => {
      if (entry !== undefined) setWidthPx(Math.floor(entry.contentRect.width));
    });
    observer.observe(results.current);
    return () => observer.disconnect();
  }, []);
  return widthPx;
}

/** Bounds, years and settings hold for any door: a long log need not go along. */
function withoutDoor(state: PlannerState): PlannerState {
  return { ...state, source: initialState.source, drawn: [] };
}

/** Has a worker of its own answer a task, bit by bit. */
export function ask<Kind extends Task['kind']>(
  task: Task & { readonly kind: Kind },
  onAnswer: (answer: Answer<Kind>) => void,
): Worker {
  const worker = startedWorker();
  worker.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
    if (isAnswerTo(task, data)) onAnswer(data);
  });
  worker.postMessage(task);
  return worker;
}

function startedWorker(): Worker {
  const worker = new Worker(scriptUrl());
  worker.addEventListener('error', ({ message }) => reportError(message));
  return worker;
}

const known: { url: string | null } = { url: null };

/** Made once: the script is long. */
function scriptUrl(): string {
  if (known.url === null) {
    const text = document.getElementById('dw-script')?.textContent ?? '';
    known.url = URL.createObjectURL(new Blob([text], { type: 'text/javascript' }));
  }
  return known.url;
}
