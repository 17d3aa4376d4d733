// How far a long piece of work has come: one line on the terminal's error stream, once it has taken a second.
import type { Io } from './io.js';

export interface Progress {
  /** @param share from 0 to 1, or null when the whole is not known. */
  at(share: number | null): void;
  /** Takes the line away again. */
  end(): void;
}

const firstAfterMs = 1_000;
const againAfterMs = 200;

/** @param label what is being done, such as `reading doors.csv`; already fit for a terminal. @param on.atOnce without waiting for a second. */
export function openProgress(
  io: Io,
  label: string,
  { atOnce = false }: { readonly atOnce?: boolean } = {},
): Progress {
  const startMs = io.elapsed();
  let nextMs = startMs + (atOnce ? 0 : firstAfterMs);
  let shown = false;
  const show = (text: string): void => {
    // Nothing waits for a progress line, and a terminal that is gone needs none.
    io.stderr.write(`\r\u001b[2K${text}`).catch(() => undefined);
  };
  return {
    at(share) {
      if (!io.stderr.isTerminal || io.elapsed() < nextMs) return;
      nextMs = io.elapsed() + againAfterMs;
      shown = true;
      const spentMs = io.elapsed() - startMs;
      show(`${label} … ${share === null ? secondsText(spentMs) : shareText(share, spentMs)}`);
    },
    end() {
      if (shown) show('');
    },
  };
}

/** Before so much is done, what is left is anybody's guess. */
const leastShare = 0.02;

function shareText(share: number, spentMs: number): string {
  const done = `${String(Math.floor(share * 100))} %`;
  if (share < leastShare || share >= 1) return done;
  return `${done}, about ${secondsText((spentMs * (1 - share)) / share)} left`;
}

function secondsText(ms: number): string {
  return `${String(Math.round(ms / 1_000))} s`;
}
