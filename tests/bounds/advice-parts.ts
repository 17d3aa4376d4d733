// What the parts of the advice, of the requirements and of the certificates make of a watch, with bounds that are made up so that
// each lies just below, at and just above what is required.

import { trueMs } from '../../src/base/index.js';
import { adviceOf } from '../../src/bounds/advice/advice.js';
import { blindBandMmOf, eagerBandMmOf, gapsOf } from '../../src/bounds/advice/blind-band.js';
import { bounceAdvice, bounceLeftOut } from '../../src/bounds/advice/bounce.js';
import { findingsOf, isMetWithMemoryKept } from '../../src/bounds/advice/findings.js';
import {
  changesFrom,
  follows,
  higherThresholds,
  otherThresholds,
} from '../../src/bounds/advice/plan.js';
import { priceClauses, priceOf, repeatsClause } from '../../src/bounds/advice/prices.js';
import { loudFaults, quieterWays } from '../../src/bounds/advice/quiet.js';
import { obstacleOf, remediesOf, remediesOfOne } from '../../src/bounds/advice/remedies.js';
import { openTrials } from '../../src/bounds/advice/trial.js';
import { unreportableOf } from '../../src/bounds/advice/unreportable.js';
import type { Remedy } from '../../src/bounds/answer.js';
import { bounceMarginsOf, quietInSpiteOf } from '../../src/bounds/bounce.js';
import { type Searched, searched, searchesFor } from '../../src/bounds/bounds.js';
import { boundsOf, searchesOf } from '../../src/bounds/bounds-of.js';
import { beyondCertificates, certificateText } from '../../src/bounds/certificate/certificate.js';
import { prove } from '../../src/bounds/certificate/prove.js';
import { smallerProof } from '../../src/bounds/certificate/smaller.js';
import { holdsOf, type Known } from '../../src/bounds/holds.js';
import { lengthBoundsOf } from '../../src/bounds/length-bounds.js';
import { provedFrom } from '../../src/bounds/proved.js';
import type { BoundsQuestion } from '../../src/bounds/question.js';
import { calmEnvironment } from '../../src/model/index.js';
import { rulesOf, taskNames, tasks, timesOf } from '../../src/verify/index.js';
import { range } from '../support/range.js';
import type { Answered } from './records.js';
import { orRefused } from './search-parts.js';

/** Around a requirement, and around it with the margin for a bounce. */
function around(askedMs: number | null, marginMs: number): readonly (number | null | undefined)[] {
  const ms = askedMs ?? 300_000;
  const margin = Number.isFinite(marginMs) ? marginMs : 5;
  return [
    undefined,
    null,
    0,
    ms - margin - 1,
    ms - margin,
    ms - 1,
    ms,
    ms + 1,
    ms + margin,
    3 * ms,
  ];
}

/** Bounds made up around what is required, in ever new pairs. */
function knowns(question: BoundsQuestion): readonly Known[] {
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = question.judge;
  const { lateMs, quietMs } = bounceMarginsOf(question);
  const sure = around(leaveOpenAfterMs, lateMs.atRest);
  const delay = around(reportWithinMs, lateMs.atRest);
  const quiet = around(quietUpToMs, quietMs);
  return sure.flatMap((atRest, place) =>
    [0, 3, 7].map(
      (more): Known => ({
        alwaysReportedFromMs: { atRest, anyState: sure[(place + more) % sure.length] },
        worstDelayMs: {
          atRest: delay[(place + 2 * more + 1) % delay.length],
          anyState: delay[(place + 3 * more + 1) % delay.length],
        },
        neverAlarmedUpToMs: quiet[(place + 5 * more + 2) % quiet.length],
      }),
    ),
  );
}

const starts = ['atRest', 'anyState'] as const;

/** Which requirements these bounds meet, and what is said of the contact. */
export function requirements(question: BoundsQuestion): Answered {
  const margins = bounceMarginsOf(question);
  const all = knowns(question).map((known) => {
    const holds = holdsOf(question, known);
    const unjudged = holdsOf({ ...question, isJudged: false }, known);
    const advice = starts.map((from) => bounceAdvice(question, known, { holds, from }));
    const quietMs = known.neverAlarmedUpToMs ?? Number.POSITIVE_INFINITY;
    const shown = [bounceLeftOut(question, quietMs), quietInSpiteOf(margins, quietMs)];
    const lengths = orRefused(() => lengthBoundsOf(question, known));
    return [holds, unjudged, provedFrom(question, known), advice, shown, lengths];
  });
  const gaps = gapsOf(question);
  const contact = [gaps, blindBandMmOf(question), eagerBandMmOf(question), margins];
  const owns = bounceMarginsOf({ ...question, ownLogic: true });
  return {
    figures: gaps?.kind ?? 'no gap',
    all: [all, contact, owns, bounceLeftOut(question, undefined)],
  };
}

/** Why no setting meets a requirement, for requirements just shorter and just longer than what is away. */
export function obstacles(question: BoundsQuestion): Answered {
  const { powerLosses, longestPowerLossMs, outages, longestOutageMs, longestChatterMs } =
    question.environment;
  const lostMs = powerLosses * longestPowerLossMs;
  const downMs = outages * longestOutageMs;
  const away = [
    ...[lostMs, longestPowerLossMs, downMs, longestOutageMs, longestChatterMs],
    ...[lostMs + longestChatterMs, lostMs + longestChatterMs + downMs],
    ...[longestChatterMs + downMs, lostMs + downMs, longestPowerLossMs + longestOutageMs],
  ];
  const instant = { least: trueMs(0), most: trueMs(0) };
  const quick = { ...question.timing, bootTime: instant, connectTime: instant };
  const lengths = [...new Set(away.flatMap((ms) => [ms - 1, ms, ms + 1]))].filter((ms) => ms > 0);
  const all = lengths.flatMap((ms) =>
    [question.timing, quick].flatMap((timing) =>
      starts.map((from) => {
        const judge = { leaveOpenAfterMs: trueMs(ms), reportWithinMs: trueMs(ms) };
        const asked = { ...question, timing, judge };
        return [
          obstacleOf('leaveOpenAfter', asked, from),
          obstacleOf('reportWithin', asked, from),
        ].map((one) => (one === null ? null : [one.why, one.without.map(({ line }) => line)]));
      }),
    ),
  );
  const some = all.flat().filter((one) => one !== null).length;
  return { figures: `${String(some)} of ${String(2 * all.length)}`, all };
}

/** A remedy that is made up: one setting, or two, with a price or without. */
function remedyOf(question: BoundsQuestion, place: number): Remedy {
  const much = place % 3 === 1;
  return {
    holds: place % 2 === 0 ? 'atRest' : 'anyState',
    changes: [
      { key: 'checkInterval', value: '7s' },
      ...(place > 3 ? [] : [{ key: 'wakeOn', value: 'opening' } as const]),
    ],
    alwaysReportedFromMs: 70_000,
    worstDelayMs: null,
    neverAlarmedUpToMs: null,
    checkIntervalMs: 7_000,
    price: {
      lifeMs: null,
      quietUpToMs: { now: 9_000, then: much ? 1_000 : 9_000 },
      atRest: null,
      repeatsEveryMs: { now: null, then: null },
      falseAlarmsPerYear: null,
      wakesOnOpening: false,
      muchWorse: much ? ['quiet'] : [],
    },
    watch: question.program.watch,
  };
}

/** What it says of bounds that are made up, without remedies and with some. */
export function advice(question: BoundsQuestion): Answered {
  const remedies = range(0, 6).map((place) => remedyOf(question, place));
  const lists = [[], remedies.slice(0, 1), remedies.slice(1, 3), remedies.slice(3, 5), remedies];
  const all = knowns(question).flatMap((known, place) => {
    const holds = holdsOf(question, known);
    const of = (some: readonly Remedy[]) =>
      orRefused(() => adviceOf(question, known, { holds, remedies: some }));
    return [of(lists[place % lists.length] ?? []), ...(place % 4 === 1 ? [of([])] : [])];
  });
  const said = all.filter((one) => one !== null).length;
  return { figures: `${String(said)} of ${String(all.length)}`, all };
}

/** Ways to meet one requirement or another, whichever hold now. */
export function ways(question: BoundsQuestion): Answered {
  const alone = (['leaveOpenAfter', 'reportWithin'] as const).flatMap((key) =>
    starts.map((from) => remediesOfOne(question, key, from).remedies),
  );
  const trials = openTrials(question);
  const none = [trials.inCalm({}), trials.isQuiet({}), trials.restBounds({})];
  const proved = starts.map((from) => trials.proved({}, from));
  const quieter = [quieterWays(question), loudFaults(question), isMetWithMemoryKept(question)];
  return {
    figures: `${String(alone.flat().length)} ways`,
    all: [alone.map((some) => some.map(({ changes }) => changes)), none, proved, quieter],
  };
}

/** Where nothing holds: all remedies, with their prices. */
export function remedies(question: BoundsQuestion, index: number): Answered {
  const fails = { atRest: false, anyState: false };
  const holds = { leaveOpenAfter: fails, reportWithin: fails, quietUpTo: fails };
  const all = remediesOf({ ...question, ownLogic: index % 7 === 0 }, holds, {
    quietMs: index % 3 === 0 ? null : 60_000,
    restMs: { sureFromMs: 200_000, worstDelayMs: null },
    falseAlarmsPerYear: ({ recheckIntervalMs }) => 2_000_000 / recheckIntervalMs,
  });
  const written = all.map((remedy) => [remedy, priceClauses(remedy)]);
  return { figures: `${String(all.length)} remedies`, all: written };
}

/** What other settings cost, where life, quiet, repeats and false alarms are just not yet or already much worse. */
export function prices(question: BoundsQuestion, _: number, other: BoundsQuestion): Answered {
  const then: BoundsQuestion = { ...question, program: other.program };
  const pairs = [
    [100, 50],
    [100, 49],
    [100, 100],
    [100, 101],
    [null, 70],
    [70, null],
    [0, 0],
    [5, 0],
  ];
  const rates = [
    [1, 13],
    [1, 12.9],
    [12, 24],
    [12, 24.1],
    [0, 12],
    [0, 0],
    [10, 10.4],
    [0.04, 9.96],
  ];
  const all = rates.map(([before = 0, after = 0], place) => {
    const [now = null, later = null] = pairs[place] ?? [];
    const span = {
      now: now === null ? null : now * 1_000,
      then: later === null ? null : later * 1_000,
    };
    const price = priceOf(question, then, {
      quietMs: span,
      atRest:
        place % 3 === 0
          ? null
          : { sureFromMs: span, worstDelayMs: { now: span.then, then: span.now } },
      falseAlarmsPerYear:
        place === 7 ? undefined : (watch) => (watch === then.program.watch ? after : before),
    });
    return [price, priceClauses({ price }), repeatsClause(span)];
  });
  const { watch } = question.program;
  const plan = [
    otherThresholds(watch),
    higherThresholds(watch),
    changesFrom(watch, other.program.watch),
    follows(other.program.watch, watch),
  ];
  return {
    figures: `${String(changesFrom(watch, other.program.watch).length)} changes`,
    all: [all, plan],
  };
}

/** What its owner should know, from searches of few states and from bounds that are made up. */
export function findings(question: BoundsQuestion): Answered {
  const { searches } = searchesOf(question, 600);
  const found = orRefused(() => findingsOf(question, searches));
  const longer = (one: Searched | null): Searched | null => {
    if (one === null) return null;
    const { result } = one;
    const later = (what: typeof result.decision, byMs: number) =>
      what === null ? null : { ...what, openingMs: what.openingMs + byMs };
    return {
      ...one,
      result: {
        ...result,
        decision: later(result.decision, 1),
        unreported: later(result.unreported, 600_000),
      },
    };
  };
  const { atRest, anyState, quickest } = searches;
  const late = { atRest: longer(atRest), anyState: longer(anyState), quickest };
  const others = [late, { atRest: null, anyState, quickest: null }, { ...late, anyState: null }];
  const all = [found, ...others.map((some) => orRefused(() => findingsOf(question, some)))];
  const never = anyState === null ? null : orRefused(() => unreportableOf(question, anyState));
  const codes = typeof found === 'string' ? found : found.map(({ code }) => code).join(' ');
  return { figures: codes === '' ? 'nothing' : codes, all: [all, never] };
}

function ended<Result>(steps: Generator<unknown, Result>): readonly [Result, number] {
  for (let count = 0; ; count += 1) {
    const { done, value } = steps.next();
    if (done === true) return [value, count];
  }
}

/** The states of a proof, or of how much it would have to be rid to have few. */
export function proofs(question: BoundsQuestion): Answered {
  const { program, timing, reset, environment } = question;
  const rules = rulesOf(program.watch, timesOf(timing, reset), environment);
  const rows = taskNames.map((name) => orRefused(() => ended(prove(rules, tasks[name], 250))));
  const kinds = rows.map((one) => {
    const [proof] = typeof one === 'string' ? [one] : one;
    return typeof proof === 'string' ? 'none' : String(proof.states.length);
  });
  return { figures: `${kinds.join(', ')} states`, all: [rows, beyondCertificates(question)] };
}

export function smallerProofs(question: BoundsQuestion): Answered {
  const all = orRefused(() => ended(smallerProof(question, 150)));
  const none = orRefused(() => ended(smallerProof(question, 1)));
  const [proof] = typeof all === 'string' ? [null] : all;
  return { figures: proof === null ? 'none' : proof.changes.join('; '), all: [all, none] };
}

/** A proof with the runs that reach its bounds. */
export function certificates(question: BoundsQuestion): Answered {
  const all = orRefused(() => ended(certificateText(question, 500)));
  const [proof] = typeof all === 'string' ? [null] : all;
  return { figures: proof?.kind ?? 'none', all };
}

/** Faults with which a watch is not as quiet as without. */
export function loud(question: BoundsQuestion): Answered {
  const calm = { ...question, environment: calmEnvironment };
  const quietMs = searched(calm, searchesFor.quickest).result.decision?.openingMs ?? 60_000;
  const judge = { ...question.judge, quietUpToMs: trueMs(Math.max(1, quietMs)) };
  const faults = [
    { resets: 1 },
    { powerLosses: 1 },
    { longestOutageMs: 180_000 },
    { longestChatterMs: 30_000 },
    { resets: 1, powerLosses: 1, longestChatterMs: 30_000 },
  ];
  const all = faults.map((some) =>
    loudFaults({ ...calm, judge, environment: { ...calmEnvironment, ...some } }).map(
      ({ line }) => line,
    ),
  );
  return { figures: `${String(all.flat().length)} loud`, all };
}

/** All that is answered. */
export function everything(question: BoundsQuestion): Answered {
  const all = boundsOf(question);
  return { figures: `${String(all.states)} states`, all: [all, beyondCertificates(question)] };
}
