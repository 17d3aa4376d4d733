// The signal before an action: sound, vibration and a flash of the panel, each of which can be off.

export interface SignalChoice {
  readonly sound: boolean;
  readonly vibration: boolean;
  readonly flash: boolean;
}

/** Before an action a short signal each time, at the action a long one. */
export const warnBeforeMs = [10_000, 3_000, 2_000, 1_000] as const;

const shortMs = 120;
const longMs = 700;
const hertz = { short: 880, long: 1_320 };
/** Loud enough for a store, without clipping. */
const gain = 0.5;

let audio: AudioContext | null = null;

/** Browsers let a page make a sound only after a press of a key: this belongs into its handler. */
export function wakeSound(): void {
  audio ??= new AudioContext();
  void audio.resume();
}

/** Gives a signal. @param flash shows it on the panel for a duration in ms. */
export function signal(
  kind: 'short' | 'long',
  choice: SignalChoice,
  flash: (ms: number) => void,
): void {
  const lengthMs = kind === 'short' ? shortMs : longMs;
  if (choice.sound) beep(hertz[kind], lengthMs);
  // Some browsers have no such call, and one without a motor does nothing.
  if (choice.vibration && 'vibrate' in navigator) navigator.vibrate(lengthMs);
  if (choice.flash) flash(lengthMs);
}

function beep(frequency: number, lengthMs: number): void {
  if (audio === null) return;
  const tone = audio.createOscillator();
  const volume = audio.createGain();
  tone.frequency.value = frequency;
  volume.gain.value = gain;
  tone.connect(volume).connect(audio.destination);
  tone.start();
  tone.stop(audio.currentTime + lengthMs / 1_000);
}

/** Whether a signal is due between two looks at the clock, and which; null: none. */
export function signalBetween(
  actionsMs: readonly number[],
  beforeMs: number,
  nowMs: number,
): 'short' | 'long' | null {
  const isPassed = (atMs: number): boolean => beforeMs < atMs && atMs <= nowMs;
  if (actionsMs.some(isPassed)) return 'long';
  const isWarned = actionsMs.some((atMs) => warnBeforeMs.some((ms) => isPassed(atMs - ms)));
  return isWarned ? 'short' : null;
}
