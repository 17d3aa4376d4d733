// A counterexample as a scenario: the same timeline, and the result that it should have had.
import { invariant, trueMs } from '../../base/index.js';
import {
  type Finding,
  type HuntQuestion,
  played,
  type Ran,
  runTrial,
  type Trial,
  trialSeed,
} from '../../hunt/index.js';
import { clockErrorsOf, type ResetMemory, unknownResets } from '../../model/index.js';
import {
  type Expectations,
  emptyScenario,
  parseScenario,
  type Scenario,
  scenarioText,
  timelineOf,
  type WatchFile,
} from '../../scenarios/index.js';
import { judge, type Summary } from '../../verdict/index.js';
import { spansOf } from '../../world/index.js';

type Count = Expectations['counts'][number];
type CountName = Count['name'];

/** What a finding's scenario is called, and the lines above it. */
export interface ScenarioHeading {
  readonly name: string;
  readonly comment: readonly string[];
}

/**
 * The scenario's text. It is read back and replayed before it is given out.
 * @param expect the result that the timeline should have had.
 * @throws InvariantError when it does not replay to the verdict that the hunt saw.
 */
export function findingText(
  found: {
    readonly finding: Finding;
    readonly question: HuntQuestion;
    readonly watchFile: WatchFile;
    readonly expect: Expectations;
  },
  heading: ScenarioHeading,
): string {
  const text = scenarioText(scenarioOf(found, nameWithin(heading.name)), heading.comment);
  const ran = runTrial(found.question, found.finding.trial);
  const replayed = summaryOf(text, found.question, found.watchFile);
  invariant(
    JSON.stringify(replayed) === JSON.stringify(ran.verdict.summary),
    'a saved counterexample replays to the same verdict',
    { replayed, hunted: ran.verdict.summary, text },
  );
  return text;
}

function scenarioOf(
  {
    finding: { trial },
    question: { timing, run },
    watchFile,
    expect,
  }: Parameters<typeof findingText>[0],
  name: string,
): Scenario {
  const empty = emptyScenario(name, trueMs(trial.lengthMs));
  const { bootTime, connectTime, clockError } = trial.timing;
  const errors = clockErrorsOf(timing.clockError);
  const draws = trial.contactFaults.some(({ reads }) => reads.kind === 'chattering');
  return {
    ...empty,
    // A firmware was hunted without the time of day, and would know it from a start.
    start: run === undefined ? empty.start : { ...empty.start, isAssumed: true },
    door: trial.openings.map(([fromMs, toMs]) => ({
      fromMs: trueMs(fromMs),
      toMs,
      gapUm: null,
      approach: 'closing',
      note: null,
      source: { file: name },
    })),
    networkDown: spansOf(trial.networkDown),
    powerLost: spansOf(trial.powerLost),
    resetsMs: Float64Array.from(trial.resets, ({ atMs }) => atMs),
    resetKinds: trial.resets.map(({ kind }) => kind),
    contactFaults: trial.contactFaults,
    // Where the watch file leaves no choice, its own times apply.
    environment: {
      bootTime: timing.bootTime.least < timing.bootTime.most ? bootTime : null,
      connectTime: timing.connectTime.least < timing.connectTime.most ? connectTime : null,
      clockError: errors.least < errors.most ? clockError : null,
      reset: resetAssumed(trial, watchFile),
    },
    seed: draws ? trialSeed : null,
    expect,
  };
}

/** A scenario's name has this many characters at most; what stopped a firmware may take more to say. */
const mostNameCharacters = 200;

function nameWithin(name: string): string {
  return name.length <= mostNameCharacters ? name : `${name.slice(0, mostNameCharacters - 1)}…`;
}

/** Where the watch file does not say that they do: resets of a trial that clear memory. */
function resetAssumed({ resets }: Trial, { reset: said }: WatchFile): ResetMemory {
  const [reset] = resets;
  if (reset?.clears !== true || said[reset.kind] !== null) return unknownResets;
  return { ...unknownResets, [reset.kind]: 'clears' };
}

function summaryOf(text: string, question: HuntQuestion, watchFile: WatchFile): Summary {
  const scenario = parseScenario(text, 'counterexample');
  invariant(scenario.ok, 'a saved counterexample can be read', { text });
  const timeline = timelineOf(scenario.value, watchFile);
  invariant(timeline.ok, 'a saved counterexample is a timeline', { text });
  const { timing, world, seed } = timeline.value;
  const { trace } = played(question, { program: question.program, timing, world, seed });
  return judge(world.openings, trace, question.judge).summary;
}

/** The result it should have had: one fewer of what went wrong, where a count can express that. */
export function wishFor(finding: Finding, ran: Ran): Expectations {
  const { summary } = ran.verdict;
  const name = wrongCount(finding, ran);
  if (name === null) return exactly(summary, ['missed', 'falseAlarms', 'alerts']);
  const count: Count = { name, least: 0, most: Math.max(0, (summary[name] ?? 0) - 1) };
  return {
    counts: withFalseAlarms(count, summary.falseAlarms),
    worstDelayAtMostMs: null,
    worstDelayAtLeastMs: null,
  };
}

/** A watch that alerts all the time misses nothing, and is no better. @param most false alarms in this timeline. */
function withFalseAlarms(count: Count, most: number): readonly Count[] {
  return count.name === 'falseAlarms' ? [count] : [count, { name: 'falseAlarms', least: 0, most }];
}

/** The count that the breach is one too many of; null: no count shows it. */
function wrongCount({ breach }: Finding, { verdict }: Ran): CountName | null {
  switch (breach.property) {
    case 'keeps-running':
    case 'spares-the-battery':
    case 'keeps-its-heartbeats':
    case 'conforms':
      return null;
    case 'reported':
      return 'missed';
    case 'in-time':
      return 'late';
    case 'one-alert-per-cooldown':
    case 'holds-after-its-alert':
      return 'alerts';
    case 'quiet':
    case 'no-false-alarm':
      return verdict.summary.falseAlarms > 0 ? 'falseAlarms' : 'alerts';
    default: {
      const alert = verdict.alerts[breach.subject?.index ?? -1];
      if (alert?.deliveredMs !== null) return 'alerts';
      const outcome = alert.opening === null ? 'brief' : verdict.openings.at(alert.opening).outcome;
      return outcome === 'missed' || outcome === 'undecided' ? outcome : 'undelivered';
    }
  }
}

const compared: readonly CountName[] = [
  'missed',
  'late',
  'reported',
  'undecided',
  'alerts',
  'falseAlarms',
  'earlyAlerts',
  'repeats',
  'undelivered',
];

/** The sound watch's verdict, in everything in which the faulty one's differs. */
export function differenceFrom(faulty: Summary, sound: Summary): Expectations {
  const expect = exactly(
    sound,
    compared.filter((name) => sound[name] !== faulty[name]),
  );
  if (sound.worstDelayMs === null || sound.worstDelayMs === faulty.worstDelayMs) return expect;
  const delayMs = trueMs(sound.worstDelayMs);
  return { ...expect, worstDelayAtMostMs: delayMs, worstDelayAtLeastMs: delayMs };
}

/** Whether no expectation can be met by one of them alone. */
function isAlike(one: Summary, other: Summary): boolean {
  return (
    compared.every((name) => one[name] === other[name]) && one.worstDelayMs === other.worstDelayMs
  );
}

/** The machine's verdict: where a firmware's is the same, in what a reader looks at first. */
function wishOfMachine(firmware: Summary, machine: Summary): Expectations {
  return isAlike(firmware, machine)
    ? exactly(machine, ['missed', 'falseAlarms', 'alerts'])
    : differenceFrom(firmware, machine);
}

/** What a firmware should have got where it breaks a requirement, or differs from the machine; and what that expectation shows. */
export function firmwareWish(
  finding: Finding,
  ran: Ran,
  machine: Summary,
): { readonly expect: Expectations; readonly words: string } {
  const { summary } = ran.verdict;
  const { property } = finding.breach;
  const name = wrongCount(finding, ran);
  const most = name === null ? 0 : (machine[name] ?? 0);
  if (name !== null && (summary[name] ?? 0) > most) {
    // Fewer misses than the machine's are no fault; fewer alerts are.
    const count: Count = { name, least: name === 'alerts' ? most : 0, most };
    const falseAlarms = Math.max(summary.falseAlarms, machine.falseAlarms);
    return {
      expect: {
        counts: withFalseAlarms(count, falseAlarms),
        worstDelayAtMostMs: null,
        worstDelayAtLeastMs: null,
      },
      words: `expect: is what the machine of the watch file gets; the firmware gets ${name}: ${String(summary[name] ?? 0)}.`,
    };
  }
  const expect = wishOfMachine(summary, machine);
  if (property === 'keeps-running') {
    return { expect, words: 'rig shows this without an expectation: the firmware fails here.' };
  }
  const only = property === 'conforms' ? 'rig --conform' : 'the line below';
  return {
    expect,
    words: isAlike(summary, machine)
      ? `The verdicts of the firmware and of the machine of the watch file are the same here: only ${only} shows the difference.`
      : property === 'conforms'
        ? 'expect: is the verdict of the machine of the watch file.'
        : 'expect: is the verdict of the machine of the watch file; it does not show the finding itself, only the line below does.',
  };
}

function exactly(summary: Summary, names: readonly CountName[]): Expectations {
  const counts = names.map((name) => {
    const count = summary[name] ?? 0;
    return { name, least: count, most: count };
  });
  return { counts, worstDelayAtMostMs: null, worstDelayAtLeastMs: null };
}
