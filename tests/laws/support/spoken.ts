// Figures as people read them, back to milliseconds.
const unitMs: Readonly<Record<string, number>> = {
  d: 86_400_000,
  h: 3_600_000,
  min: 60_000,
  s: 1_000,
  ms: 1,
};

const part = String.raw`\d[\d,]*(?:\.\d+)?\s(?:d|h|min|s|ms)\b`;
/** A duration in words, wherever it stands: `4 min 8 s`. */
export const spokenDuration = String.raw`${part}(?:\s${part})*`;

/** `4 min 8.5 s` in milliseconds; null: it is no such thing. */
export function spokenMs(text: string): number | null {
  if (!new RegExp(`^${spokenDuration}$`, 'u').test(text)) return null;
  return Array.from(text.matchAll(/(\d[\d,]*(?:\.\d+)?)\s(d|h|min|s|ms)\b/gu)).reduce(
    (sum, [, digits = '', unit = '']) =>
      sum + Math.round(Number(digits.replaceAll(',', '')) * (unitMs[unit] ?? Number.NaN)),
    0,
  );
}

/** A text with its lines joined, so that nothing that is sought is broken over two of them. */
export function unwrapped(text: string): string {
  return text.replaceAll(/\s+/gu, ' ');
}

/** The most that rounding for people may change: the half of a per cent, and a second where that is more. */
function slackMs(exactMs: number): number {
  return Math.max(1_000, exactMs < 3_600_000 ? 1_000 : exactMs / 50);
}

/** Whether a spoken figure is the exact one, or rounded upwards (or downwards) from it. */
export function isTrueFigure(spoken: number, exactMs: number, rounded: 'up' | 'down'): boolean {
  const more = rounded === 'up' ? spoken - exactMs : exactMs - spoken;
  return more >= 0 && more <= slackMs(exactMs);
}
