// The worker of the page: the page's own script once more, from a blob, so that the page stays one file.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { PlannerState } from '../state.js';
import { type Answer, isAnswer, type Task } from './tasks.js';

export interface Answers {
  readonly bounds: Answer | null;
  readonly years: Answer | null;
}

/** Asks afresh whenever what is asked changes; what is under way then is dropped. */
export function useAnswers(state: PlannerState, isSound: boolean): Answers {
  const [answers, setAnswers] = useState<Answers>({ bounds: null, years: null });
  const latest = useRef(0);
  useEffect(() => {
    if (!isSound) return undefined;
    latest.current += 1;
    const id = latest.current;
    const workers: Worker[] = [];
    const begin = (kind: Task['kind']): void => {
      const worker = startedWorker();
      workers.push(worker);
      worker.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
        if (isAnswer(data) && data.id === id) setAnswers((known) => ({ ...known, [kind]: data }));
      });
      worker.postMessage({ id, kind, state, widthPx: pictureWidthPx() } satisfies Task);
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
  }, [state, isSound]);
  return answers;
}

/** As wide as what it will stand in, so that its letters are drawn at their size. */
export function pictureWidthPx(): number {
  return document.querySelector('.results')?.clientWidth ?? Math.min(960, window.innerWidth);
}

function startedWorker(): Worker {
  const text = document.getElementById('dw-script')?.textContent ?? '';
  const url = URL.createObjectURL(new Blob([text], { type: 'text/javascript' }));
  const worker = new Worker(url);
  worker.addEventListener('message', () => URL.revokeObjectURL(url), { once: true });
  worker.addEventListener('error', ({ message }) => reportError(message));
  return worker;
}
