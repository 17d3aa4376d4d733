// How long it is until a quiet device looks at the door again: the length over which its phase is spread.
import { itemAt, lastsMs, type Ppm } from '../base/index.js';
import type { Experiment } from '../sim/index.js';
import type { ClockError, VaryingMs } from '../world/index.js';

export interface PhaseLength {
  readonly lengthMs: number;
  /** The boot time or the clock error varies, so the length is nominal. */
  readonly isAbout: boolean;
}

/** The sleep after a shut check and the boot after it. */
export function phaseLengthOf({
  program,
  timing,
}: Pick<Experiment, 'program' | 'timing'>): PhaseLength {
  const { checkIntervalMs } = program.watch;
  const { bootTime, clockError } = timing;
  const error = steadyError(clockError);
  const sleepMs = error === null ? checkIntervalMs : lastsMs(checkIntervalMs, error);
  return {
    lengthMs: sleepMs + nominalMs(bootTime),
    isAbout: bootTime.kind !== 'fixed' || clockError.kind !== 'fixed',
  };
}

/** Of a clock that errs by one known value; null: it changes, or is within a range. */
function steadyError(error: ClockError): Ppm | null {
  if (error.kind === 'fixed') return error.ppm;
  const [first, ...others] = error.kind === 'curve' ? error.steps : [];
  return first === undefined || others.length > 0 ? null : first.ppm;
}

/** The middle of a range; the first of times that are written down. */
function nominalMs(varying: VaryingMs): number {
  switch (varying.kind) {
    case 'fixed':
      return varying.ms;
    case 'range':
      return Math.round((varying.leastMs + varying.greatestMs) / 2);
    case 'inTurn':
      return itemAt(varying.ms, 0);
  }
}
