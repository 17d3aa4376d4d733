// What a command says in words is true to what it says in JSON: exact, or rounded to the side on which it stays true.
import { type CommandCase, mustEnd, replayIn } from './command-case.js';
import { drawFrom } from './draw.js';
import { runIn } from './in-process.js';
import { type Broken, questionIn } from './law-case.js';
import { longestSilenceMs } from './samples.js';
import { isTrueFigure, spokenDuration, spokenMs, unwrapped } from './spoken.js';

/** The words of `bounds` are true to its JSON: exact, or rounded to the side on which they stay true. */
export async function boundsTextLaw({ folder, bounds }: CommandCase): Promise<Broken> {
  const ran = await runIn(folder, ['bounds', '-c', 'watch.yaml']);
  mustEnd(ran, [0, 1]);
  // What changed settings would do stands above the data sheet.
  const text = unwrapped(ran.stdout.slice(ran.stdout.indexOf('\nData sheet')));
  const holds = Object.values(bounds.holds).every(({ atRest }) => atRest !== false);
  const broken: string[] = [];
  if (bounds.exactness.unknown.length === 0 && holds !== (ran.status === 0)) {
    broken.push(`status ${String(ran.status)}, and ${JSON.stringify(bounds.holds)}`);
  }
  const figures = [
    ['sure from', bounds.alwaysReportedFromMs.atRest ?? bounds.alwaysReportedFromMs.anyState, 'up'],
    ['quiet up to', bounds.neverAlarmedUpToMs, 'down'],
    ['worst detection latency', bounds.worstDelayMs.atRest ?? bounds.worstDelayMs.anyState, 'up'],
    ['best detection latency', bounds.bestDelayMs, 'down'],
  ] as const;
  const isNeverQuiet = bounds.neverAlarmedUpToMs === 0;
  if (isNeverQuiet !== text.includes('never quiet: even the shortest opening')) {
    broken.push(`"never quiet" in words, or not, and ${String(bounds.neverAlarmedUpToMs)} ms`);
  }
  for (const [label, exactMs, rounded] of figures) {
    if (exactMs === null || (isNeverQuiet && label === 'quiet up to')) continue;
    const found = new RegExp(`${label} (${spokenDuration})`, 'u').exec(text)?.[1];
    const spoken = found === undefined ? null : spokenMs(found);
    if (spoken === null || !isTrueFigure(spoken, exactMs, rounded)) {
      broken.push(`"${label} ${String(found)}" is not true of ${String(exactMs)} ms`);
    }
  }
  return broken;
}

/** The words of a replay are true to its JSON, and expectations aside its status follows from it. */
export async function replayTextLaw({ folder }: CommandCase): Promise<Broken> {
  const args = ['replay', 'scenario.yaml', '-c', 'watch.yaml'];
  const [ran, json] = [await runIn(folder, args), await runIn(folder, [...args, '--json'])];
  mustEnd(ran, [0, 1]);
  const { summary } = replayIn(json.stdout);
  const counts = [
    ['leave-opens', summary['leaveOpens']],
    ['reported(?: in time)?', summary['reported']],
    ['late', summary.late],
    ['MISSED', summary.missed],
    ['FALSE ALARMS', summary['falseAlarms']],
  ] as const;
  const broken = counts.flatMap(([label, count]) => {
    const found = new RegExp(`^ {2}${label} {2,}([\\d,]+)\\b`, 'mu').exec(ran.stdout)?.[1] ?? 'not';
    return Number(found.replaceAll(',', '')) === count
      ? []
      : [`${label} ${found} in words, and ${String(count)} in JSON`];
  });
  const isFinding = summary.missed + summary.late + (summary['falseAlarms'] ?? 0) > 0;
  if (ran.status !== json.status || isFinding !== (ran.status === 1)) {
    broken.push(
      `status ${String(ran.status)} and ${String(json.status)} for ${JSON.stringify(summary)}`,
    );
  }
  return broken;
}

interface BatteryJson {
  readonly quiet: { readonly lifeMs: number };
  readonly heartbeat: { readonly set: { readonly silentForAtMostMs: number | null } };
}

/** The words of `battery` are true to its JSON, and no run is silent for longer than it says. */
export async function batteryLaw({ one, folder }: CommandCase): Promise<Broken> {
  const args = ['battery', '-c', 'watch.yaml'];
  const json = await runIn(folder, [...args, '--json']);
  mustEnd(json, one.watchFile.supply === null ? [2] : [0, 1]);
  if (json.status === 2) return [];
  const ran = await runIn(folder, args);
  const { quiet, heartbeat }: BatteryJson = JSON.parse(json.stdout);
  const text = unwrapped(ran.stdout);
  const broken: string[] = [];
  const days = /(?:a charge|a set of cells) lasts ([\d,]+) d\b/u.exec(text)?.[1];
  const exactDays = quiet.lifeMs / 86_400_000;
  if (days !== undefined && Number(days.replaceAll(',', '')) > exactDays) {
    broken.push(`a charge lasts ${String(exactDays)} d, and the words are ${days} d`);
  }
  const { silentForAtMostMs } = heartbeat.set;
  if (silentForAtMostMs === null) return broken;
  const found = new RegExp(`a heartbeat is missing after at most (${spokenDuration})`, 'u').exec(
    text,
  )?.[1];
  const spoken = found === undefined ? null : spokenMs(found);
  if (spoken === null || !isTrueFigure(spoken, silentForAtMostMs, 'up')) {
    broken.push(`"at most ${String(found)}" is not true of ${String(silentForAtMostMs)} ms`);
  }
  const longestMs = longestSilenceMs(questionIn(one), drawFrom(one.seed, 'silence', one.index));
  if (longestMs > silentForAtMostMs) {
    broken.push(
      `silent for at most ${String(silentForAtMostMs)} ms, and a run for ${String(longestMs)} ms`,
    );
  }
  return broken;
}
