// How long a charge lasts in the words of a report.
import { batteryAnswer, type NamedUse } from '../battery/index.js';
import { batteryChart } from '../chart/index.js';
import type { WatchFile } from '../scenarios/index.js';
import { batteryFacts } from '../wording/index.js';
import { fitting } from './fitting.js';
import type { ReportBattery } from './input.js';

/** Null: the watch file says nothing of a supply. @param watch with its name as the user gave it */
export function reportBattery(
  timelines: readonly NamedUse[],
  watch: { readonly watchFile: WatchFile; readonly name: string | null },
): ReportBattery | null {
  const { supply, watch: settings, timing } = watch.watchFile;
  if (supply === null) return null;
  const answer = batteryAnswer({ watch: settings, timing, supply, timelines, measured: null });
  const file = watch.name ?? 'the watch';
  const picture = fitting((widthPx) =>
    batteryChart({ answer, file, options: { theme: 'page', bare: true, widthPx } }),
  );
  return { picture, facts: batteryFacts(answer, watch) };
}
