// What would help: small changes of the settings, in round values, each tried with the same search that found the
// trouble.
import { type DeviceMs, deviceMs, durationText } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';
import { compileWatch } from '../sim/index.js';
import type { Change, Holds, Remedy } from './answer.js';
import { type BoundsQuestion, type DetectionBounds, detectionBounds } from './bounds.js';
import { timesOf } from './environment.js';
import { TooManyStatesError } from './visited.js';

const roundMs = [
  1, 2, 5, 10, 15, 20, 30, 45, 60, 90, 120, 150, 180, 240, 300, 360, 420, 480, 600, 720, 900, 1_200,
  1_800, 2_700, 3_600,
].map((seconds) => seconds * 1_000);

/** A change of the settings, with what it is called in a watch file. */
interface Candidate {
  readonly watch: WatchSettings;
  readonly changes: readonly Change[];
}

/** The most settings that are tried. */
const mostTried = 60;

function written(ms: number): string {
  const parts = [
    [Math.floor(ms / 3_600_000), 'h'],
    [Math.floor(ms / 60_000) % 60, 'm'],
    [Math.floor(ms / 1_000) % 60, 's'],
  ] as const;
  return (
    parts.map(([count, unit]) => (count > 0 ? `${String(count)}${unit}` : '')).join('') || '0s'
  );
}

/** The greatest round interval that is at most so long; null: there is none. */
function roundAtMost(ms: number): DeviceMs | null {
  const round = roundMs.findLast((candidate) => candidate <= ms);
  return round === undefined ? null : deviceMs(round);
}

function intervalCandidates(question: BoundsQuestion): readonly Candidate[] {
  const { watch } = question.program;
  const { bootMs } = timesOf(watch, question.timing);
  const wantedMs = question.judge.leaveOpenAfterMs;
  const rechecks = watch.escalationThreshold.open - 1;
  return roundMs
    .filter((recheckMs) => recheckMs <= watch.recheckIntervalMs)
    .flatMap((recheckMs): readonly Candidate[] => {
      const leftMs = wantedMs - rechecks * (recheckMs + bootMs.most) - bootMs.most;
      const checkMs = roundAtMost(Math.min(leftMs, watch.checkIntervalMs));
      if (checkMs === null || recheckMs > checkMs) return [];
      const changes: Change[] = [];
      if (rechecks > 0) changes.push({ key: 'recheckInterval', value: written(recheckMs) });
      if (checkMs !== watch.checkIntervalMs) {
        changes.push({ key: 'checkInterval', value: written(checkMs) });
      }
      const recheckIntervalMs = deviceMs(recheckMs);
      return [{ watch: { ...watch, recheckIntervalMs, checkIntervalMs: checkMs }, changes }];
    })
    .sort(
      (a, b) =>
        b.watch.checkIntervalMs - a.watch.checkIntervalMs ||
        b.watch.recheckIntervalMs - a.watch.recheckIntervalMs,
    )
    .filter(
      ({ watch: { checkIntervalMs } }, index, all) =>
        all[index - 1]?.watch.checkIntervalMs !== checkIntervalMs,
    )
    .slice(0, 6);
}

function candidatesFor(question: BoundsQuestion): readonly Candidate[] {
  const { watch } = question.program;
  const same: Candidate = { watch, changes: [] };
  const byInterval = intervalCandidates(question);
  const edge = ({ watch: base, changes }: Candidate): Candidate => ({
    watch: { ...base, wakeOn: 'opening' },
    changes: [...changes, { key: 'wakeOn', value: 'opening' }],
  });
  const calm = ({ watch: base, changes }: Candidate): Candidate => ({
    watch: { ...base, alertCooldownMs: deviceMs(0) },
    changes: [...changes, { key: 'alertCooldown', value: '0s' }],
  });
  const byRecheck = roundMs
    .filter((ms) => ms < watch.recheckIntervalMs)
    .reverse()
    .slice(0, 8)
    .map(
      (ms): Candidate => ({
        watch: { ...watch, recheckIntervalMs: deviceMs(ms) },
        changes: [{ key: 'recheckInterval', value: written(ms) }],
      }),
    );
  const woken =
    watch.wakeOn === 'timer' ? [same, ...byRecheck, ...byInterval].map((one) => edge(one)) : [];
  const all = [same, ...byInterval, ...woken];
  return [...all, ...(watch.alertCooldownMs > 0 ? all.map(calm) : [])].filter(
    ({ changes }) => changes.length > 0,
  );
}

/** For each that does not hold, at rest and from any state, the smallest changes found with which all does. */
export function remediesOf(question: BoundsQuestion, holds: Holds): readonly Remedy[] {
  const fails = (from: 'atRest' | 'anyState'): boolean =>
    [holds.leaveOpenAfter[from], holds.reportWithin[from], holds.quietUpTo.atRest].includes(false);
  const wanted = (['atRest', 'anyState'] as const).filter(fails);
  if (wanted.length === 0) return [];
  const remedies: Remedy[] = [];
  const tried = candidatesFor(question).slice(0, mostTried);
  for (const from of wanted) {
    const found = new Map<string, Remedy>();
    for (const candidate of tried) {
      const kind = candidate.changes.some(({ key }) => key === 'wakeOn') ? 'wakeOn' : 'timer';
      if (found.has(kind)) continue;
      const remedy = triedRemedy(question, candidate, from);
      if (remedy !== null) found.set(kind, remedy);
      if (found.size === 2) break;
    }
    remedies.push(...found.values());
  }
  return remedies;
}

function triedRemedy(
  question: BoundsQuestion,
  { watch, changes }: Candidate,
  from: 'atRest' | 'anyState',
): Remedy | null {
  const bounds = boundsWith(question, watch);
  if (bounds === null) return null;
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = question.judge;
  const sureMs = bounds.alwaysReportedFromMs[from];
  const worstMs = bounds.worstDelayMs[from];
  if (sureMs === null || sureMs > leaveOpenAfterMs) return null;
  if (reportWithinMs !== null && (worstMs === null || worstMs > reportWithinMs)) return null;
  if (quietUpToMs !== null && quietUpToMs > bounds.neverAlarmedUpToMs) return null;
  return {
    holds: from,
    changes,
    alwaysReportedFromMs: sureMs,
    worstDelayMs: worstMs,
    neverAlarmedUpToMs: Number.isFinite(bounds.neverAlarmedUpToMs)
      ? bounds.neverAlarmedUpToMs
      : null,
    checkIntervalMs: watch.checkIntervalMs,
  };
}

function boundsWith(question: BoundsQuestion, watch: WatchSettings): DetectionBounds | null {
  try {
    return detectionBounds({ ...question, program: compileWatch(watch) });
  } catch (error) {
    if (error instanceof TooManyStatesError) return null;
    throw error;
  }
}

/** What is asked and does not hold, and what would help; null: all that is asked holds at rest and from any state. */
export function adviceOf(
  { judge }: BoundsQuestion,
  { alwaysReportedFromMs: sure }: DetectionBounds,
  on: { readonly holds: Holds; readonly remedies: readonly Remedy[] },
): string | null {
  const { leaveOpenAfter } = on.holds;
  const wanted = durationText(judge.leaveOpenAfterMs);
  for (const from of ['atRest', 'anyState'] as const) {
    if (leaveOpenAfter[from] !== false) continue;
    const sureMs = sure[from];
    const sureText = sureMs === null ? 'never sure' : `sure only from ${durationText(sureMs)}`;
    const whence = from === 'atRest' ? '' : ', whatever went before,';
    const ways = on.remedies.filter(({ holds }) => holds === from).map(wayText);
    const remedy =
      ways.length === 0
        ? 'No small change of the settings that was tried makes it sure.'
        : `To be sure from ${wanted}: ${ways.join(', or ')}.`;
    return `A door left open for ${wanted}${whence} may go unreported: this watch is ${sureText}. ${remedy}`;
  }
  return null;
}

function wayText({ changes }: Remedy): string {
  return changes.map(({ key, value }) => `${key}: ${value}`).join(' and ');
}
