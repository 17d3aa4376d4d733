// Air through the open door of a cold room, after Gosney and Olama (1975) as in the ASHRAE Refrigeration Handbook:
// Q = 0.221 A √(1 − ρw/ρc) √(g H) Fm with Fm = (2 / (1 + (ρc/ρw)^⅓))^1.5. Cold air runs out below, warm in above.

export interface Doorway {
  readonly widthMm: number;
  readonly heightMm: number;
}

export interface AirExchange {
  /** m³ of outside air a second. */
  readonly flow: number;
  /** The density factor. */
  readonly densityFactor: number;
}

/** m/s², as the handbook takes it. */
const gravity = 9.81;
/** Dry air at sea level: Pa, and J/(kg K). */
const pressure = 101_325;
const gasConstant = 287.05;

/** kg/m³ of dry air at sea level. */
function density(celsius: number): number {
  return pressure / (gasConstant * (celsius + 273.15));
}

/** The exchange between two temperatures; the warmer side may be either. */
export function airExchange(
  { widthMm, heightMm }: Doorway,
  insideCelsius: number,
  outsideCelsius: number,
): AirExchange {
  const cold = density(Math.min(insideCelsius, outsideCelsius));
  const warm = density(Math.max(insideCelsius, outsideCelsius));
  const ratio = 2 / (1 + Math.cbrt(cold / warm));
  // To the power of 1.5: `**` differs between engines in the last digit, a square root does not.
  const densityFactor = ratio * Math.sqrt(ratio);
  const area = (widthMm * heightMm) / 1_000_000;
  const draught = Math.sqrt(1 - warm / cold) * Math.sqrt((gravity * heightMm) / 1_000);
  return { flow: 0.221 * area * draught * densityFactor, densityFactor };
}

/**
 * The time constant of a room's air alone, mixed through at the flow of the first moment. The flow falls as the
 * air warms, and walls and goods hold it back: the air takes longer than this.
 * @returns milliseconds; null: nothing flows, since it is as warm inside as outside.
 */
export function airTauMs(volumeLitres: number, { flow }: AirExchange): number | null {
  return flow === 0 ? null : (volumeLitres / 1_000 / flow) * 1_000;
}
