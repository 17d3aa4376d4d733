// The report of what is tried out, made from the very files that the planner gives out: anybody who has them gets the same
// page from the command line.
import { plain } from '../base/index.js';
import { useOf } from '../battery/index.js';
import { type BoundsQuestion, boundsOf, provedFrom, TooManyStatesError } from '../bounds/index.js';
import { mostPagePhaseSteps, mostReportReasons } from '../model/index.js';
import { everyPhase } from '../phase/index.js';
import {
  type PageScript,
  type ReportBounds,
  reportBar,
  reportBattery,
  reportBounds,
  reportHtml,
  reportTimeline,
  sharedCommandLine,
  sharedWords,
} from '../report/index.js';
import {
  experimentOf,
  type Timeline,
  unmetExpectations,
  type WatchFile,
} from '../scenarios/index.js';
import { simulate } from '../sim/index.js';
import { explain, judge } from '../verdict/index.js';
import { knownFrom, type Plan, planning } from './plan.js';
import { initialState, type PlannerState, watchNameOf } from './state.js';

/** What a page needs to stand on its own. */
export interface PageParts {
  readonly version: string;
  readonly caution: string;
  /** The planner's own, which also makes reports live. */
  readonly script: PageScript;
}

/** Null: what is given out cannot be read back. */
export function plannedReport(state: PlannerState, page: PageParts): string | null {
  const plan = planFromFiles(state);
  if (plan === null) return null;
  const { watchFile, scene, question } = plan;
  const { timeline } = scene;
  const { file, name } = timeline;
  const watchName = watchNameOf(state);
  const run = pageRun(timeline, plan, watchName);
  const { version, caution, script } = page;
  const zone = (state.source.zone ?? '').trim();
  return reportHtml({
    title: plain(name),
    watchFile,
    watchName,
    timelines: [run.timeline],
    bar: plan.bar === null ? null : reportBar(plan.bar),
    bounds: boundsIn(question, watchFile, watchName),
    battery: reportBattery([{ file, name, use: run.use }], { watchFile, name: watchName }),
    commandLine: sharedCommandLine('report', [file], {
      config: watchName,
      ...(state.source.lenient === true ? { lenient: true } : {}),
      ...(zone === '' ? {} : { zone }),
      output: 'report.html',
    }),
    version,
    caution,
    script,
    pack: null,
  });
}

function planFromFiles(state: PlannerState): Plan | null {
  const planned = planning()(state);
  if (!planned.ok) return null;
  const { watchText, scenarioText } = planned.plan;
  const text = scenarioText?.();
  const source =
    text === undefined
      ? state.source
      : ({ kind: 'scenario', name: 'scenario.yaml', text } as const);
  const again = planning()({
    ...initialState,
    watchText: watchText(),
    set: {},
    source,
    watchName: watchNameOf(state),
  });
  return again.ok ? again.plan : null;
}

function pageRun(timeline: Timeline, { watchFile, question, bounds }: Plan, watchName: string) {
  const { program } = question;
  const { world, expect, logged } = timeline;
  const experiment = experimentOf(timeline, { program, watchFile });
  const trace = simulate(experiment, { record: 'all' });
  const asked = watchFile.judge;
  const verdict = judge(world.openings, trace, asked, logged?.unseen);
  const use = useOf(trace, world);
  const proved = provedFrom(question, knownFrom(bounds));
  const every = everyPhase(experiment, asked, {
    wasRunning: logged?.powerOnIsAssumed === true,
    unavailable: logged?.unseen,
    mostSteps: mostPagePhaseSteps,
  });
  const view = {
    timeline,
    verdict,
    alerts: trace.alerts,
    use,
    explanations: explain({ experiment, verdict, asked, limit: mostReportReasons }),
    unmet: expect === null ? null : unmetExpectations(expect, verdict.summary),
    watchFile,
    watchName,
    firmware: null,
    trace,
    proved,
    phases: every === null ? null : { every, areJudged: true },
  };
  const words = ['replay', timeline.file, '-c', watchName, '--every-phase'];
  return { timeline: reportTimeline(view, { trace, phasesCommand: sharedWords(words) }), use };
}

function boundsIn(
  question: BoundsQuestion,
  watchFile: WatchFile,
  watchName: string,
): ReportBounds | null {
  try {
    const bounds = boundsOf(question);
    return reportBounds({ watchName, overrides: [], watchFile, bounds, isJudged: true });
  } catch (error) {
    if (error instanceof TooManyStatesError) return null;
    throw error;
  }
}
