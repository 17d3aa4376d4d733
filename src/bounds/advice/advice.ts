// Which requirements are not met, and what would help, in plain words.
import {
  durationText,
  leastOf,
  roundedDurationText,
  roundedMs,
  writeDuration,
} from '../../base/index.js';
import type { Gaps, Holds, Remedy } from '../answer.js';
import { bounceMarginsOf, quietInSpiteOf } from '../bounce.js';
import type { Known, Start } from '../holds.js';
import type { BoundsQuestion } from '../question.js';
import { gapsOf } from './blind-band.js';
import { bounceAdvice } from './bounce.js';
import { isMetWithMemoryKept } from './findings.js';
import { changesFrom } from './plan.js';
import { priceClauses } from './prices.js';
import { loudFaults, type QuieterWay, quieterWays } from './quiet.js';
import { isPossible, obstacleOf, remediesOfOne } from './remedies.js';
import { type SingleChange, singleChanges } from './single-changes.js';

/** Null: no requirement is known to fail. */
export function adviceOf(
  question: BoundsQuestion,
  known: Known,
  on: {
    readonly holds: Holds;
    readonly remedies: readonly Remedy[];
    /** Whether the search for remedies has tried all it would; default: it has. */
    readonly isCutShort?: boolean;
  },
): string | null {
  const gaps = gapsOf(question);
  if (question.isJudged && gaps?.kind === 'blind') return blindText(gaps);
  for (const from of ['atRest', 'anyState'] as const) {
    const troubles = troublesOf(question, known, { holds: on.holds, from });
    const bounce = question.isJudged
      ? bounceAdvice(question, known, { holds: on.holds, from })
      : null;
    if (troubles.length === 0 && bounce !== null) return bounce;
    if (troubles.length === 0) continue;
    const remedies = remediesFrom(on.remedies, from);
    const isLoud = from === 'atRest' && on.holds.quietUpTo.atRest === false;
    const quieter = isLoud ? quieterTexts(question, known, remedies) : [];
    const sentences = [
      ...troubles,
      ...helpOf(question, remedies, { ...on, from, known }),
      ...quieter,
      ...(from === 'atRest' ? anyStateOnly(question, known, on.holds) : []),
      ...(bounce === null ? [] : [bounce]),
    ];
    // What goes for two requirements comes once, after both.
    return sentences.filter((one, at) => sentences.lastIndexOf(one) === at).join(' ');
  }
  return null;
}

/** The requirements that are met at rest and not from any state, where others are not met even at rest. */
function anyStateOnly(question: BoundsQuestion, known: Known, all: Holds): readonly string[] {
  const only = (key: Key): boolean | null =>
    all[key].atRest === true && all[key].anyState === false ? false : null;
  const holds: Holds = {
    leaveOpenAfter: { atRest: null, anyState: only('leaveOpenAfter') },
    reportWithin: { atRest: null, anyState: only('reportWithin') },
    quietUpTo: { atRest: null, anyState: null },
  };
  const troubles = troublesOf(question, known, { holds, from: 'anyState' });
  if (troubles.length === 0) return [];
  const impossible = unmetReports(holds, 'anyState').some(
    (key) => obstacleOf(key, question, 'anyState') !== null,
  );
  return impossible
    ? [...troubles, ...impossibleTexts(question, { holds, from: 'anyState', known })]
    : troubles;
}

/** Those to name: what holds from any state also holds at rest, and goes first where it makes nothing much worse. */
function remediesFrom(all: readonly Remedy[], from: Start): readonly Remedy[] {
  const isFair = ({ price }: Remedy): boolean => price.muchWorse.length === 0;
  const ofStart = all.filter(({ holds }) => holds === from);
  if (from === 'anyState' || ofStart.some(isFair)) return ofStart;
  return [...all.filter(isFair), ...ofStart];
}

/** The door may rest where the contact reads shut: nothing else matters then. */
function blindText({ overMm, opensAtLeastMm }: Gaps): string {
  const over = `${String(overMm)} mm`;
  const rests = `${String(opensAtLeastMm ?? 0)} mm`;
  return `A door that rests at ${rests} (door.opensAtLeast) may go unreported for ever: the contact can read shut at gaps of up to ${over} (contact.releaseGap). No setting of the watch helps. Move the magnet farther from the switch, so that the contact releases below ${rests}, or set opensAtLeast above ${over} if the door never rests at a smaller gap.`;
}

/** Which faults alone keep quietUpTo from being met, and what takes them away; empty: none do. */
function loudText(question: BoundsQuestion): string {
  const faults = loudFaults(question);
  if (faults.length === 0) return '';
  const those = listText(
    faults.map(({ what }) => what),
    'and',
  );
  const lines = listText(
    faults.map(({ line }) => line),
    'and',
  );
  return `, because of ${those}: with ${lines} the watch would meet it as it is set`;
}

function troublesOf(
  question: BoundsQuestion,
  known: Known,
  on: { readonly holds: Holds; readonly from: Start },
): readonly string[] {
  const { judge } = question;
  const { holds, from } = on;
  const anyState = from === 'atRest' ? '' : 'from any state ';
  const troubles: string[] = [];
  if (holds.leaveOpenAfter[from] === false) {
    const sureMs = known.alwaysReportedFromMs[from];
    const sure =
      sureMs == null
        ? 'no opening is long enough to be sure of a report'
        : `${anyState}this watch is sure only from ${roundedDurationText(sureMs, 'at most')}`;
    const left = durationText(judge.leaveOpenAfterMs);
    const before = from === 'atRest' ? '' : ', depending on what happened before';
    const anyMs = known.alwaysReportedFromMs.anyState;
    const alsoAny =
      anyMs === undefined || anyMs === sureMs
        ? ''
        : anyMs === null
          ? ', and from some states it is never sure'
          : `, and from any state only from ${roundedDurationText(anyMs, 'at most')}`;
    const quietMs = known.neverAlarmedUpToMs;
    const isSureMiss = from === 'atRest' && quietMs != null && judge.leaveOpenAfterMs <= quietMs;
    const goes = isSureMiss ? 'goes unreported at rest' : `may go unreported${before}`;
    troubles.push(`An opening of ${left} ${goes}: ${sure}${alsoAny}.`);
  }
  if (holds.reportWithin[from] === false && judge.reportWithinMs !== null) {
    const worstMs = known.worstDelayMs[from];
    const late =
      worstMs == null
        ? 'never arrive'
        : `arrive as late as ${roundedDurationText(worstMs, 'at most')} after the door opened`;
    const within = durationText(judge.reportWithinMs);
    const anyMs = known.worstDelayMs.anyState;
    const alsoAny =
      anyMs === undefined || anyMs === worstMs
        ? ''
        : anyMs === null
          ? ', and from some states it may never arrive'
          : `, and from any state as late as ${roundedDurationText(anyMs, 'at most')}`;
    troubles.push(
      `The alert must arrive within ${within}, but ${anyState}it may ${late}${alsoAny}.`,
    );
  }
  if (holds.quietUpTo.atRest === false && judge.quietUpToMs !== null && from === 'atRest') {
    const quiet = `No single opening of up to ${durationText(judge.quietUpToMs)} should raise an alert`;
    const quietMs = known.neverAlarmedUpToMs ?? 0;
    const loud =
      quietMs === 0
        ? 'even the shortest can'
        : `one slightly over ${roundedDurationText(quietMs, 'at least')} can`;
    troubles.push(`${quiet}, but ${loud}${loudText(question)}.`);
  }
  return troubles;
}

function helpOf(
  question: BoundsQuestion,
  remedies: readonly Remedy[],
  on: {
    readonly holds: Holds;
    readonly from: Start;
    readonly known: Known;
    readonly isCutShort?: boolean;
  },
): readonly string[] {
  const { holds, from, known } = on;
  const unmet = unmetOf(holds, from);
  if (remedies.length > 0) {
    const isRest = remedies.every((one) => one.holds === 'atRest');
    const where = isRest
      ? ' at rest'
      : unmet.length > 1 && from === 'anyState'
        ? ' from any state'
        : '';
    return [`${goalText(question.judge, unmet)}${where}, set ${waysText(remedies)}`];
  }
  const contradiction = from === 'atRest' ? contradictionOf(question.judge) : null;
  if (contradiction !== null) return [contradiction];
  const reports = unmetReports(holds, from);
  if (isPossible(question, from) || reports.length === 0) {
    const tried = triedTexts(question, from, on.isCutShort === true);
    if (unmet.length === 1) return ['None of the small changes tried helps.', ...tried];
    const alone = reports.flatMap((key) => aloneTexts(question, key, from));
    return ['None of the small changes tried meets all requirements.', ...tried, ...alone];
  }
  return impossibleTexts(question, { holds, from, known });
}

type Key = keyof Holds;

function unmetOf(holds: Holds, from: Start): readonly Key[] {
  const isLoud = holds.quietUpTo[from] === false;
  return [...unmetReports(holds, from), ...(isLoud ? (['quietUpTo'] as const) : [])];
}

function unmetReports(holds: Holds, from: Start): readonly Exclude<Key, 'quietUpTo'>[] {
  const keys = ['leaveOpenAfter', 'reportWithin'] as const;
  return keys.filter((key) => holds[key][from] === false);
}

/** What the remedies achieve: the one requirement that is not met, or all. */
function goalText(
  { leaveOpenAfterMs, reportWithinMs, quietUpToMs }: BoundsQuestion['judge'],
  unmet: readonly Key[],
): string {
  const [only, ...others] = unmet;
  if (others.length > 0) return 'To meet all requirements';
  if (only === 'reportWithin') {
    return `To deliver every alert within ${durationText(reportWithinMs ?? 0)}`;
  }
  if (only === 'quietUpTo') return `To be quiet up to ${durationText(quietUpToMs ?? 0)}`;
  return `To be sure from ${durationText(leaveOpenAfterMs)}`;
}

/** What meets quietUpTo alone with fewer changes than the remedies; and the quietUpTo that is met now. */
function quieterTexts(
  question: BoundsQuestion,
  known: Known,
  remedies: readonly Remedy[],
): readonly string[] {
  const fewest = leastOf(remedies.map(({ changes }) => changes.length));
  const ways = quieterWays(question).filter(({ changes }) => changes.length < fewest);
  const quietMs = roundedMs(
    quietInSpiteOf(bounceMarginsOf(question), known.neverAlarmedUpToMs ?? 0),
    'at least',
  );
  return [
    ...(ways.length === 0
      ? []
      : [`To meet quietUpTo alone, set ${ways.map(quieterText).join('; or ')}.`]),
    ...(quietMs > 0 ? [`As it is set, the watch meets quietUpTo: ${writeDuration(quietMs)}.`] : []),
  ];
}

function quieterText(way: QuieterWay): string {
  const { sureFromMs } = way;
  if (sureFromMs === undefined) return wayText(way);
  const sure =
    sureFromMs === null
      ? 'then no opening is long enough to be sure of a report'
      : `then sure from ${roundedDurationText(sureFromMs, 'at most')} at rest`;
  return `${wayText(way)} (${sure})`;
}

/** Which requirements no setting meets, each with its own reason; and what meets leaveOpenAfter alone. */
function impossibleTexts(
  question: BoundsQuestion,
  { holds, from, known }: { readonly holds: Holds; readonly from: Start; readonly known: Known },
): readonly string[] {
  const obstacles = unmetReports(holds, from).map((key) => ({
    key,
    ...(obstacleOf(key, question, from) ?? { why: null, without: [] }),
  }));
  const reasons = [...new Set(obstacles.map(({ why }) => why))].filter((why) => why !== null);
  const impossible = reasons.map((reason) => {
    const keys = obstacles.filter(({ why }) => why === reason).map(({ key }) => key);
    const anyState = from === 'anyState' ? ' from every state' : '';
    return `No setting meets ${listText(keys, 'or')}${anyState} while ${reason}.`;
  });
  const alone = obstacles
    .filter(({ why }) => why === null)
    .flatMap(({ key }) => aloneTexts(question, key, from));
  const sentences = [...impossible, ...alone];
  const lines = obstacles.flatMap(({ without }) => without.map(({ line }) => line));
  if (lines.length > 0) {
    const none = listText([...new Set(lines)], 'and');
    const met = obstacles.flatMap(({ key, why }) => (why === null ? [] : metNow(key, known, from)));
    if (met.length > 0) {
      const where = from === 'atRest' ? ' at rest' : '';
      sentences.push(`As it is set, the watch meets ${listText(met, 'and')}${where}.`);
    }
    sentences.push(`To see what settings alone can improve, search with ${none}.`);
  }
  return sentences;
}

/** The least requirement that is met as it is set; empty: none, or not known. */
function metNow(
  key: 'leaveOpenAfter' | 'reportWithin',
  known: Known,
  from: Start,
): readonly string[] {
  const ms = (key === 'reportWithin' ? known.worstDelayMs : known.alwaysReportedFromMs)[from];
  return ms == null ? [] : [`${key}: ${writeDuration(roundedMs(ms, 'at most'))}`];
}

/** Which settings were changed, for who would look further; and whether that was all that would have been tried. */
function triedTexts(question: BoundsQuestion, from: Start, isCutShort: boolean): readonly string[] {
  const changes = singleChanges(question, from);
  const isNamed = ({ values }: SingleChange): boolean => values.length === 1;
  const kinds = changes.filter((change) => !isNamed(change)).map(({ key }) => key);
  const only = changes
    .filter(isNamed)
    .flatMap(({ values: [value] }) =>
      changesFrom(question.program.watch, { ...question.program.watch, ...value }),
    );
  const tried = [
    ...(kinds.length === 0 ? [] : [`other values of ${listText(kinds, 'and')}`]),
    ...(only.length === 0 ? [] : [wayText({ changes: only })]),
  ];
  if (tried.length === 0) return [];
  const all = tried.join('; ');
  return [
    isCutShort
      ? `Tried: ${all}; not every value and not all together, since the search takes long for this watch.`
      : `Tried: ${all}; alone and together.`,
  ];
}

function aloneTexts(
  question: BoundsQuestion,
  key: 'leaveOpenAfter' | 'reportWithin',
  from: Start,
): readonly string[] {
  const {
    remedies: [remedy],
    isCutShort,
  } = remediesOfOne(question, key, from);
  if (remedy !== undefined) {
    const rest = from === 'atRest' ? ' at rest' : '';
    return [`${key} alone can be met${rest}: set ${wayText(remedy)}.`];
  }
  const kept =
    key === 'leaveOpenAfter' && from === 'atRest' && isMetWithMemoryKept(question)
      ? '; it would be met if every reset kept retained memory (device.reset)'
      : '';
  const tried = triedTexts(question, from, isCutShort);
  return [`None of the small changes tried meets ${key}${kept}.`, ...tried];
}

/** Two requirements that no watch can meet together; null: there are none. */
function contradictionOf(judge: BoundsQuestion['judge']): string | null {
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = judge;
  if (quietUpToMs === null) return null;
  const [quiet, left] = [durationText(quietUpToMs), durationText(leaveOpenAfterMs)];
  if (quietUpToMs >= leaveOpenAfterMs) {
    const which = quietUpToMs === leaveOpenAfterMs ? left : `${left} to ${quiet}`;
    return `No setting helps, because quietUpTo and leaveOpenAfter contradict each other: an opening of ${which} must be reported, and must raise no alert. Lower quietUpTo or raise leaveOpenAfter.`;
  }
  if (reportWithinMs === null || reportWithinMs > quietUpToMs) return null;
  return `No setting helps, because quietUpTo and reportWithin contradict each other: ${durationText(reportWithinMs)} after it opens a door must have been reported, and until ${quiet} it must raise no alert, since it may still shut. Lower quietUpTo or raise reportWithin.`;
}

/** The ways; what each costs is listed with the remedies. */
function waysText(remedies: readonly Remedy[]): string {
  const price = remedies.some((remedy) => priceClauses(remedy).length > 0) ? ' (prices below)' : '';
  const isMixed = remedies.some(({ holds }) => holds !== remedies[0]?.holds);
  const ways = remedies.map((remedy) => {
    const rest = isMixed && remedy.holds === 'atRest' ? ' (at rest)' : '';
    return `${wayText(remedy)}${rest}`;
  });
  return `${ways.join('; or ')}${price}.`;
}

function wayText({ changes }: Pick<Remedy, 'changes'>): string {
  return listText(
    changes.map(({ key, value }) => `${key}: ${value}`),
    'and',
  );
}

function listText(texts: readonly string[], join: 'and' | 'or'): string {
  const last = texts.at(-1) ?? '';
  return texts.length < 2 ? last : `${texts.slice(0, -1).join(', ')} ${join} ${last}`;
}
