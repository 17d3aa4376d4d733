// What the parts of the search make of a watch, one by one: each step that a device can take, whether or not it leads to a
// bound, which states cover which others, and the run to each.
import seedrandom from 'seedrandom';
import { InvariantError } from '../../src/base/index.js';
import { aliasingOf } from '../../src/bounds/aliasing/aliasing.js';
import { fewestOpenings } from '../../src/bounds/aliasing/fewest.js';
import { type CountedCheck, nextChecks } from '../../src/bounds/aliasing/next-checks.js';
import { modelOf, searched, searchesFor, wouldOutgrow } from '../../src/bounds/bounds.js';
import type { Checked } from '../../src/bounds/checks.js';
import { calmDevice } from '../../src/bounds/curves/calm-device.js';
import { curvesOf } from '../../src/bounds/curves/curves.js';
import { decisionsFrom } from '../../src/bounds/curves/decisions.js';
import { attempts, nearbySearches } from '../../src/bounds/evidence/attempts.js';
import { ledIn } from '../../src/bounds/evidence/lead-in.js';
import { areSeldom, outlookOf } from '../../src/bounds/horizon.js';
import { isLosable } from '../../src/bounds/losable.js';
import type { BoundsQuestion } from '../../src/bounds/question.js';
import { offTrack, restNodes } from '../../src/bounds/rest.js';
import { runWorld } from '../../src/bounds/run-world.js';
import { begin, type Found, search } from '../../src/bounds/search.js';
import { firstChecks, runsFrom } from '../../src/bounds/successors.js';
import { timesOf as timesAt } from '../../src/bounds/times.js';
import {
  afterAll,
  draftOf,
  type Model,
  type Step,
  stepsOf,
  type Track,
} from '../../src/bounds/track.js';
import { type Node, TooManyStatesError, visitedNodes } from '../../src/bounds/visited.js';
import { durationsAlong, runAlong, runIfAny, stepsTo } from '../../src/bounds/witness.js';
import { relaxed } from '../../src/bounds/zone.js';
import { inputCode } from '../../src/machine/index.js';
import { calmEnvironment } from '../../src/model/index.js';
import { mutantPrograms } from '../../src/mutants/index.js';
import { range } from '../support/range.js';
import type { Answered } from './records.js';

/** What a function returns, or why it has no answer. */
export function orRefused<T>(find: () => T): T | string {
  try {
    return find();
  } catch (error) {
    if (error instanceof TooManyStatesError) return `more than ${String(error.mostNodes)} states`;
    if (error instanceof InvariantError) return error.message;
    throw error;
  }
}

/** The model of a question, with its messages taken in one of the ways that a search takes them. */
function modelFor(question: BoundsQuestion, index: number): Model {
  const model = modelOf(question);
  const heartbeats = (['timed', 'free', 'seldom'] as const)[index % 3] ?? 'timed';
  const warnings = (['free', 'seldom'] as const)[index % 2] ?? 'free';
  return {
    ...model,
    heartbeats,
    warnings: model.warnings === 'never' ? model.warnings : warnings,
  };
}

const written = (track: Track): unknown => ({ ...track, steps: stepsOf(track.steps) });

/** From the opening that begins as the device boots, and from a device at rest, a few dozen checks on, wherever chance leads. */
export function walks(question: BoundsQuestion, index: number): Answered {
  const model = modelFor(question, index);
  const random = seedrandom(`walk ${String(index)}`);
  const off = offTrack(model);
  const opening = afterAll(off, [{ op: 'begin', mostMs: 0 }]);
  const starts = [...firstChecks(model, off)];
  if (opening !== null) {
    opening.phase = 'starting';
    starts.push(...firstChecks(model, opening));
  }
  const all: unknown[] = [starts.map(written)];
  let runs = 0;
  for (let walk = 0; walk < 4; walk += 1) {
    let at = starts[Math.floor(random() * starts.length)];
    for (let step = 0; step < 14 && at !== undefined; step += 1) {
      if (at.phase === 'before' && random() < 0.3) at = begin(model, at);
      const { checks, deliveries, stuck } = runsFrom(model, { ...at, steps: null });
      runs += checks.length;
      all.push([checks.map(written), deliveries.map(written), stuck.map(written)]);
      at = checks[Math.floor(random() * checks.length)];
    }
  }
  return { figures: `${String(runs)} checks`, all };
}

interface Met {
  readonly nodes: readonly Node[];
  readonly decisions: string;
  readonly model: Model;
}

const mostMet = 250;

/** The first states that a search meets, which of them are new, and which are covered later. */
function metBy(question: BoundsQuestion, index: number): Met {
  const model = modelFor(question, index);
  const seek = index % 4 === 3 ? 'least' : 'greatest';
  const visited = visitedNodes(model, { mostNodes: 10_000, relaxed: seek === 'greatest' });
  const nodes: Node[] = [];
  let decisions = '';
  const add = (at: Checked, parent: Node | null): void => {
    const node = { at: { ...at, zone: relaxed(at.zone, { seek, outage: at.outage }) }, parent };
    const isNew = visited.add(node);
    decisions += isNew ? '1' : '0';
    if (isNew) nodes.push(node);
  };
  for (const at of firstChecks(model, offTrack(model))) add(at, null);
  for (const node of nodes) {
    if (nodes.length > mostMet) break;
    const isCovered = visited.isCovered(node);
    decisions += isCovered ? 'c' : '.';
    if (isCovered) continue;
    const from: Checked = { ...node.at, steps: null };
    for (const next of runsFrom(model, from).checks) add(next, node);
    if (from.phase !== 'before') continue;
    for (const next of runsFrom(model, begin(model, from)).checks) add(next, node);
  }
  return { nodes, decisions: `${decisions} ${String(visited.count())}`, model };
}

export function met(question: BoundsQuestion, index: number): Answered {
  const { nodes, decisions } = metBy(question, index);
  return { figures: `${String(nodes.length)} states`, all: decisions };
}

/** The run to every few of these states, and the world that it happens in. */
export function runs(question: BoundsQuestion, index: number): Answered {
  const { nodes, model } = metBy(question, index);
  const found = nodes.flatMap((node, place): Found[] =>
    place % 5 === 0 ? [{ track: node.at, parent: node.parent, openingMs: 0 }] : [],
  );
  const ways = (['greatest', 'least'] as const).flatMap((seek) =>
    found.map((one) =>
      model.heartbeats === 'seldom' ? ledIn(model, one, seek) : runIfAny(model, one, seek),
    ),
  );
  const worlds = ways.map((run, place) =>
    orRefused(() =>
      run === null
        ? null
        : runWorld(model, run, {
            lastsMs: place % 3 === 0 ? Number.POSITIVE_INFINITY : 90_000,
            ranges: question.timing,
            ...(place % 2 === 0 ? {} : { powerOnAtMs: 7_000 }),
          }),
    ),
  );
  const lasted = found.slice(0, 10).map((one) => durationsAlong(stepsTo(one), 'greatest'));
  const made = ways.filter((run) => run !== null).length;
  return {
    figures: `${String(made)} of ${String(ways.length)} runs`,
    all: [ways, worlds, lasted],
  };
}

const mostStates = 400;

/** What each search finds within few states, with its run, and how many states it took. */
export function searches(question: BoundsQuestion): Answered {
  const all = [
    ...Object.values(searchesFor),
    { ...searchesFor.anyState, isSafeEnough: true },
    { ...searchesFor.quickest, isSafeEnough: true },
    { ...searchesFor.atRest, asked: { reportedFromMs: 300_000, deliveryMs: 400_000 } },
    {
      ...searchesFor.atRest,
      asked: { reportedFromMs: 90_000, deliveryMs: Number.POSITIVE_INFINITY },
    },
  ].map((options) =>
    orRefused(() => {
      const { model, result } = searched(question, { ...options, mostNodes: mostStates });
      const { nodes, ...found } = result;
      const ends = Object.entries(found).map(([what, one]) =>
        one === null ? what : [what, one.openingMs, written(one.track), stepsTo(one)],
      );
      return [nodes, model.heartbeats, model.warnings, ends];
    }),
  );
  const ended = all.filter((one) => typeof one !== 'string');
  // A search of as many states as it may meet ends, and of one more does not.
  const limits = Object.values(searchesFor).map((options) =>
    orRefused(() => {
      const model = modelOf(question);
      const { nodes } = search(model, { ...options, mostNodes: mostStates });
      return [0, 1].map((fewer) =>
        orRefused(() => search(model, { ...options, mostNodes: nodes - fewer }).nodes),
      );
    }),
  );
  const outgrown = Object.values(searchesFor).map((options) =>
    wouldOutgrow(modelOf(question), options),
  );
  return { figures: `${String(ended.length)} ended`, all: [all, limits, outgrown] };
}

/** The states of a device at rest. */
export function rest(question: BoundsQuestion, index: number): Answered {
  const model = modelFor(question, index);
  const nodes = orRefused(() => restNodes(model, mostStates));
  const all = typeof nodes === 'string' ? nodes : nodes.map(({ at }) => written(at));
  return { figures: `${String(all.length)} at rest`, all };
}

/** The runs that may show a bound, in the order in which they are tried. */
export function evidence(question: BoundsQuestion, index: number): Answered {
  // Now and then none of the searches nearby ends.
  const nearby = index % 5 === 0 ? { found: () => null } : nearbySearches();
  const model = modelFor(question, index);
  const all = (['atRest', 'anyState', 'quickest'] as const).map((name) =>
    orRefused(() => {
      const { seek, from } = searchesFor[name];
      const found = {
        model,
        result: search(model, { ...searchesFor[name], mostNodes: mostStates }),
      };
      return (['decision', 'delivery', 'unreported'] as const).map((what) => {
        const tried: unknown[] = [];
        for (const attempt of attempts(question, found, {
          what,
          options: { from, seek },
          nearby,
        })) {
          tried.push(attempt);
          if (tried.length === 5 && model.heartbeats === 'free') break;
        }
        return tried;
      });
    }),
  );
  return { figures: `${String(all.flat().flat().length)} tried`, all };
}

/** How long an opening can go without a report, and where it can for ever. */
export function outlook(question: BoundsQuestion): Answered {
  const model = modelOf(question);
  const { phases } = model.table;
  const seen = outlookOf(model);
  const [at] = firstChecks(model, offTrack(model));
  if (at === undefined) return { figures: 'no check', all: null };
  const hopeless = phases.flatMap((_, state) =>
    (['before', 'during', 'decided'] as const).flatMap((phase) =>
      [false, true].map((cooldownOver) => seen.isHopeless({ ...at, state, phase, cooldownOver })),
    ),
  );
  const seldom = range(0, 200).map((exponent) => areSeldom(model, 1_000 * 1.1 ** exponent));
  return { figures: `horizon ${String(seen.horizonMs)} ms`, all: [hopeless, seldom] };
}

/** For each check with an alert pending: whether that alert can still be lost. */
export function losable(question: BoundsQuestion): Answered {
  const plain = modelOf(question);
  const { phases } = plain.table;
  const lost = [plain, { ...plain, warnings: 'free' as const }].flatMap((model) =>
    phases.flatMap((phase, state) =>
      phase !== 'awake'
        ? []
        : range(0, 8).flatMap((more) =>
            (more & inputCode.checkReadsOpen) === 0
              ? []
              : [0, 1].map((resetsLeft) =>
                  isLosable(model, { state, code: inputCode.check + more, resetsLeft }) ? '1' : '0',
                ),
          ),
    ),
  );
  return {
    figures: `${String(lost.filter((one) => one === '1').length)} lost`,
    all: lost.join(''),
  };
}

/** The same of logic with a mistake in it: it may give up, or forget an alert, as no watch does that is made from settings. */
export function mistaken(question: BoundsQuestion): Answered {
  const programs = mutantPrograms(question.program, question.timing);
  const all = programs
    .filter(({ program }) => program.cooldownFrom === undefined)
    .map(({ fault, program }) => {
      const wrong = { ...question, program };
      return [fault.name, outlook(wrong), losable(wrong)];
    });
  return { figures: `${String(all.length)} mistakes`, all };
}

/** When openings are decided on before, and after, which a heartbeat falls due. */
export function decisions(question: BoundsQuestion): Answered {
  const { watch, table } = question.program;
  const times = timesAt(watch, question.timing);
  const all = (['least', 'most'] as const).map((end) => {
    const clock = end === 'least' ? 'leastMs' : 'mostMs';
    const device = calmDevice(table, times, { boot: end, connect: end, clock });
    const heartbeatMs = Math.min(device.heartbeatMs, 600_000);
    const beating = { ...device, heartbeatMs };
    return table.phases.flatMap((phase, state) =>
      phase !== 'awake'
        ? []
        : [-2, -1, 0, 1].flatMap((beforeMs) =>
            [1, 2, 50_000].map((openings) =>
              decisionsFrom(beating, state, {
                openings,
                leastReadingMs: heartbeatMs + beforeMs - openings + 1,
                mostReadingMs: heartbeatMs + beforeMs,
              }),
            ),
          ),
    );
  });
  return { figures: `${String(all.flat().length)} stretches`, all };
}

export function curves(question: BoundsQuestion): Answered {
  const all = orRefused(() => curvesOf(question));
  const points = typeof all === 'string' ? all : String(all.detectionCurve.length);
  return { figures: `${points} points`, all };
}

/** Brief openings within few states: the heartbeats are left free then, or it is not known. */
export function aliased(question: BoundsQuestion): Answered {
  const all = [20, 60, 200].map((most) => orRefused(() => aliasingOf(question, most)));
  const said = all.map((one) => {
    if (typeof one === 'string') return one;
    if (one.unknown !== null) return 'unknown';
    return one.proof === null ? String(one.isShown) : 'proof';
  });
  return { figures: said.join(' '), all };
}

/** Brief openings, a few dozen checks on, wherever chance leads; and the fewest that raise an alert. */
export function briefOpenings(question: BoundsQuestion, index: number): Answered {
  const timed: Model = {
    ...modelOf({ ...question, environment: calmEnvironment }),
    warnings: 'never',
  };
  const model: Model = index % 2 === 0 ? timed : { ...timed, heartbeats: 'free' };
  const counted = ({ draft, ...others }: CountedCheck): unknown => [written(draft), others];
  const random = seedrandom(`brief ${String(index)}`);
  const { leaveOpenAfterMs } = question.judge;
  const all: unknown[] = [];
  const [first] = firstChecks(model, offTrack(model)).filter(({ readsOpen }) => !readsOpen);
  if (first !== undefined) {
    const { effects } = first;
    let at: CountedCheck | undefined = { draft: draftOf(first), open: false, openings: 0, effects };
    for (let step = 0; step < 30 && at !== undefined; step += 1) {
      const draft = draftOf(at.draft);
      draft.steps = null;
      const next: readonly CountedCheck[] = nextChecks(model, { ...at, draft }, leaveOpenAfterMs);
      all.push(next.map(counted));
      at = next[Math.floor(random() * next.length)];
    }
  }
  const fewest = orRefused(() => fewestOpenings(model, leaveOpenAfterMs, 300));
  if (typeof fewest === 'string') return { figures: fewest, all };
  const chain: (readonly Step[])[] = [];
  for (let link = fewest.alarm?.chain ?? null; link !== null; link = link.earlier) {
    chain.push(stepsOf(link.steps));
  }
  const openings = fewest.alarm === null ? 'no' : String(fewest.alarm.openings);
  const run = fewest.alarm === null ? null : runAlong(model, chain.toReversed().flat(), 'least');
  return { figures: `${openings} openings, ${String(fewest.states)} states`, all: [all, run] };
}
