// What `battery --json` prints: whole nAh, nA, milliseconds, millivolts, and parts per million for shares.
import { type BatteryAnswer, isFlatBeforeEnd } from '../../battery/index.js';

/** The answer as a JSON object, schema `dozewatch/battery/1`. */
export function batteryJson(answer: BatteryAnswer): string {
  const { supply, calibration, timelines, ...rest } = answer;
  const written = {
    schema: 'dozewatch/battery/1',
    supply,
    ...rest,
    cells: answer.quiet.cells,
    timelines: timelines.map(({ file, name, cost, flatMs }) => ({
      file,
      name,
      flatBeforeEnd: flatMs > 0 || isFlatBeforeEnd(cost),
      ...cost,
      // Of all the timeline: its cost begins with the first power-on and ends with the charge.
      lengthMs: cost.beforePowerOnMs + cost.lengthMs + flatMs,
      flatMs,
    })),
    calibration:
      calibration?.result.kind === 'explained'
        ? {
            measured: calibration.measured,
            second: calibration.second,
            sleepNa: calibration.result.sleepNa,
            wakePc: calibration.result.wakePc,
            intervals: calibration.intervals,
            ranges: calibration.ranges,
            cells: calibration.cells,
          }
        : null,
  };
  return `${JSON.stringify(written, null, 2)}\n`;
}
