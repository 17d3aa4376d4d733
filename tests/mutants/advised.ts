// Scenarios that somebody would write who follows the advice of a scene word by word, for any watch: the times come from replays
// of the watch itself.
import { ppm, trueMs } from '../../src/base/index.js';
import { unknownResets } from '../../src/model/index.js';
import {
  type Mutant,
  type SceneExpectation,
  type SceneName,
  scenes,
} from '../../src/mutants/index.js';
import {
  emptyScenario,
  experimentOf,
  type Scenario,
  timelineOf,
  type WatchFile,
} from '../../src/scenarios/index.js';
import { compileWatch, type Program, simulate, type Trace } from '../../src/sim/index.js';
import { judge, type Summary } from '../../src/verdict/index.js';
import { spansOf } from '../../src/world/index.js';

type Span = readonly [fromMs: number, toMs: number];

/** What happens in a scenario. */
export interface Script {
  readonly lengthMs: number;
  readonly door: readonly Span[];
  readonly down?: readonly Span[];
  readonly lost?: readonly Span[];
  readonly resets?: readonly number[];
}

/** A moment that is long enough to be beyond an instant, and short beside every interval of a watch. */
const momentMs = 100;

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;

/** A script that a watch has gone through. */
interface Played {
  readonly trace: Trace;
  readonly summary: Summary;
}

/** A watch that scripts are played to. */
export class Bench {
  readonly program: Program;
  /** Where the watch file leaves a choice: the least, and a clock without error. */
  private readonly fixed: Scenario['environment'];

  /** @param resetsIt somebody resets the device just after its first alert. */
  constructor(
    readonly watchFile: WatchFile,
    private readonly resetsIt = false,
  ) {
    this.program = compileWatch(watchFile.watch);
    const { bootTime, connectTime } = watchFile.timing;
    this.fixed = {
      bootTime: { kind: 'fixed', ms: trueMs(bootTime.least) },
      connectTime: { kind: 'fixed', ms: trueMs(connectTime.least) },
      clockError: { kind: 'fixed', ppm: ppm(0) },
      reset: unknownResets,
    };
  }

  run(script: Script, program: Program = this.program): Played {
    if (!this.resetsIt) return this.play(script, program);
    const first = this.play(script, this.program).trace.alerts.find(
      ({ deliveredMs }) => deliveredMs !== null,
    );
    const resets = [...(script.resets ?? [])];
    if (first?.deliveredMs !== undefined && first.deliveredMs !== null) {
      resets.push(first.deliveredMs + momentMs / 2);
    }
    return this.play({ ...script, resets }, program);
  }

  private play(script: Script, program: Program): Played {
    const whole = Math.ceil(script.lengthMs);
    const scenario = {
      ...emptyScenario('advised', trueMs(whole)),
      door: script.door.map(([fromMs, toMs]) => ({
        fromMs: trueMs(Math.round(fromMs)),
        toMs: Math.min(Math.round(toMs), whole),
        gapUm: null,
        approach: 'closing' as const,
        note: null,
        source: { file: 'advised' },
      })),
      environment: this.fixed,
      networkDown: spansOf(
        (script.down ?? []).map(([from, to]) => [Math.round(from), Math.round(to)]),
      ),
      powerLost: spansOf(
        (script.lost ?? []).map(([from, to]) => [Math.round(from), Math.round(to)]),
      ),
      resetsMs: Float64Array.from(script.resets ?? [], Math.round),
      resetKinds: (script.resets ?? []).map(() => 'button' as const),
    };
    const timeline = timelineOf(scenario, this.watchFile);
    if (!timeline.ok) throw new Error(JSON.stringify(timeline.errors).slice(0, 300));
    const experiment = experimentOf(timeline.value, {
      program: this.program,
      watchFile: this.watchFile,
    });
    const trace = simulate({ ...experiment, program });
    return {
      trace,
      summary: judge(experiment.world.openings, trace, this.watchFile.judge).summary,
    };
  }

  /** Its checks from an instant on. */
  checks(script: Script, fromMs: number): number[] {
    return this.run(script)
      .trace.wakes.flatMap(({ check, repeats, periodMs }) =>
        check === null
          ? []
          : Array.from(
              { length: Math.min(repeats, 70_000) + 1 },
              (_, index) => check.atMs + index * periodMs,
            ),
      )
      .filter((atMs) => atMs >= fromMs);
  }

  /** When it decides and delivers the first alert after an instant. */
  alert(
    script: Script,
    afterMs: number,
  ): { readonly decidedMs: number; readonly deliveredMs: number } {
    const found = this.run(script).trace.alerts.find(({ decidedMs }) => decidedMs >= afterMs);
    if (found?.deliveredMs === undefined || found.deliveredMs === null)
      throw new Error('an alert is delivered');
    return { decidedMs: found.decidedMs, deliveredMs: found.deliveredMs };
  }
}

/** What a summary has under the names that a scene expects. */
export function expectedOf(scene: SceneName, summary: Summary): string {
  const names: readonly SceneExpectation[] = scenes[scene].expects;
  return names
    .map(
      (name) => `${name} ${String((name === 'delay' ? summary.worstDelayMs : summary[name]) ?? 0)}`,
    )
    .join(', ');
}

/** Scripts by the words of a mistake's scene. @param fromMs when the door opens. */
export function advised(bench: Bench, mistake: Mutant, fromMs: number): readonly Script[] {
  return writers[mistake.scene](timesOf(bench, fromMs), mistake);
}

interface Times {
  readonly bench: Bench;
  /** When the door opens. */
  readonly fromMs: number;
  /** Long enough for any alert and its repeat. */
  readonly longMs: number;
  readonly checkMs: number;
  readonly recheckMs: number;
  readonly retryMs: number;
  readonly cooldownMs: number;
  readonly attempts: number;
  readonly bootMs: number;
  readonly connectMs: number;
  readonly leaveOpenMs: number;
  /** The door is left open at `fromMs`. */
  readonly open: Script;
  /** Its alert. */
  readonly decidedMs: number;
  readonly deliveredMs: number;
}

function timesOf(bench: Bench, fromMs: number): Times {
  const { watch, timing, judge: wanted } = bench.watchFile;
  const longMs =
    30 * (watch.checkIntervalMs + watch.recheckIntervalMs) +
    watch.alertCooldownMs +
    wanted.leaveOpenAfterMs;
  const open = leftOpen(fromMs, fromMs + longMs);
  return {
    bench,
    fromMs,
    longMs,
    checkMs: watch.checkIntervalMs,
    recheckMs: watch.recheckIntervalMs,
    retryMs: watch.retryIntervalMs,
    cooldownMs: watch.alertCooldownMs,
    attempts: watch.retryAttempts,
    bootMs: timing.bootTime.least,
    connectMs: timing.connectTime.least,
    leaveOpenMs: wanted.leaveOpenAfterMs,
    open,
    ...bench.alert(open, fromMs),
  };
}

function leftOpen(fromMs: number, toMs: number): Script {
  return { lengthMs: toMs + 60_000, door: [[fromMs, toMs]] };
}

/** As long as it takes for an alert, and no less than a leave-open. */
function untilAlert({ deliveredMs, fromMs, leaveOpenMs }: Times): number {
  return Math.max(deliveredMs + momentMs, fromMs + leaveOpenMs);
}

/** The network fails a number of attempts of an alert. */
function downFor(times: Times, failed: number): Span {
  const { decidedMs, retryMs, bootMs, connectMs, checkMs, attempts } = times;
  const before = Math.max(0, failed - 1);
  const rounds = Math.floor(before / attempts);
  const sleepMs = (before - rounds) * retryMs + rounds * checkMs;
  const lastMs = decidedMs + sleepMs + before * (bootMs + connectMs) + connectMs;
  return [decidedMs - momentMs, lastMs + momentMs];
}

type Writer = (times: Times, mistake: Mutant) => readonly Script[];

const writers: Readonly<Record<SceneName, Writer>> = {
  'left-open': (times) => [leftOpen(times.fromMs, untilAlert(times))],
  heartbeat({ bench, recheckMs, longMs }) {
    const beatMs = bench.watchFile.watch.heartbeatIntervalMs ?? 0;
    const fromMs = beatMs - recheckMs / 2;
    return [leftOpen(fromMs, fromMs + longMs)];
  },
  'long-open': ({ fromMs, deliveredMs, cooldownMs, checkMs }) => [
    leftOpen(fromMs, deliveredMs + cooldownMs - momentMs),
    leftOpen(fromMs, deliveredMs + cooldownMs + 5 * checkMs),
  ],
  'opened-later'({ bench, fromMs, cooldownMs, longMs }) {
    const shut = { lengthMs: fromMs + longMs, door: [] };
    const firstMs = (bench.checks(shut, fromMs)[0] ?? 0) - momentMs;
    const { deliveredMs } = bench.alert(leftOpen(firstMs, firstMs + longMs), firstMs);
    const first: Span = [firstMs, deliveredMs + momentMs];
    const overMs = deliveredMs + cooldownMs;
    const lengthMs = overMs + 2 * longMs;
    const againMs = (bench.checks({ lengthMs, door: [first] }, overMs)[0] ?? 0) + momentMs;
    return [{ lengthMs, door: [first, [againMs, againMs + longMs]] }];
  },
  'shut-for-checks'(times) {
    const { bench, fromMs, open } = times;
    const { escalationThreshold, clearThreshold } = bench.watchFile.watch;
    const seen = bench.checks(open, fromMs)[Math.max(0, escalationThreshold.open - 2)] ?? 0;
    return shutFor(times, seen, Math.max(escalationThreshold.outOf, clearThreshold));
  },
  'shut-after-alert': (times) =>
    shutFor(times, times.deliveredMs, times.bench.watchFile.watch.clearThreshold),
  'shut-for-a-moment'({ fromMs, checkMs, longMs }) {
    const shutMs = fromMs + checkMs / 5;
    const againMs = fromMs + checkMs / 3;
    return [
      {
        lengthMs: againMs + longMs,
        door: [
          [fromMs, shutMs],
          [againMs, againMs + longMs],
        ],
      },
    ];
  },
  outage: (times) =>
    [...new Set([1, times.attempts - 1, times.attempts, 2 * times.attempts])].map((failed) => ({
      ...leftOpen(times.fromMs, times.decidedMs + times.longMs),
      down: [downFor(times, failed)],
    })),
  'open-after-outage': (times) =>
    [1, times.attempts].map((failed) => {
      const down = [downFor(times, failed)];
      const late = times.bench.alert({ ...times.open, down }, times.fromMs);
      const toMs = late.deliveredMs + times.cooldownMs - momentMs;
      return { ...leftOpen(times.fromMs, toMs), down };
    }),
  'two-outages'(times) {
    const { bench, fromMs, cooldownMs, checkMs, longMs, attempts } = times;
    const first = downFor(times, 1);
    const delivered = bench.alert({ ...times.open, down: [first] }, fromMs).deliveredMs;
    const shutMs = Math.max(delivered + momentMs, fromMs + times.leaveOpenMs);
    const againMs = shutMs + cooldownMs + 12 * checkMs;
    const script: Script = {
      lengthMs: againMs + longMs,
      door: [
        [fromMs, shutMs],
        [againMs, againMs + longMs],
      ],
      down: [first],
    };
    const second = { ...times, ...bench.alert(script, againMs) };
    return [{ ...script, down: [first, downFor(second, attempts - 1)] }];
  },
  'shut-in-outage'(times) {
    const shutMs = untilAlert(times);
    return [
      {
        lengthMs: shutMs + times.longMs,
        door: [[times.fromMs, shutMs]],
        down: [[times.decidedMs - momentMs, shutMs + 3 * times.checkMs]],
      },
    ];
  },
  reset(times) {
    const { bench, open, fromMs, bootMs, connectMs, retryMs } = times;
    const [first = 0, second = first] = bench.checks(open, fromMs);
    const down = [downFor(times, 2)];
    const unsentMs = times.decidedMs + connectMs + Math.min(retryMs, times.checkMs) / 2 + bootMs;
    return [
      { ...open, resets: [(first + second) / 2] },
      { ...open, down, resets: [unsentMs] },
    ];
  },
  'power-on': (times) => [
    { ...times.open, lost: [[times.fromMs - times.checkMs, times.fromMs + momentMs]] },
  ],
  'reset-late-in-cooldown'({ bench, open, fromMs, deliveredMs, cooldownMs, connectMs }) {
    const bootMs = bench.watchFile.timing.bootTime.most;
    const atMs = deliveredMs + cooldownMs - connectMs / 2 - bootMs;
    return [{ ...open, door: [[fromMs, atMs + bootMs + momentMs]], resets: [atMs] }];
  },
  'reset-in-send': ({ open, decidedMs, connectMs }) => [
    { ...open, resets: [decidedMs + connectMs / 2] },
  ],
  'left-open-late'({ bench, longMs }, mistake) {
    const fromMs = namedMoment(bench, mistake) + 600_000;
    return [leftOpen(fromMs, fromMs + longMs)];
  },
  'open-across'({ bench, checkMs, recheckMs, leaveOpenMs }, mistake) {
    const atMs = namedMoment(bench, mistake);
    const shut = { lengthMs: atMs + checkMs, door: [] };
    const lastMs = bench.checks(shut, 0).findLast((checkAtMs) => checkAtMs < atMs) ?? 0;
    const enough = bench.watchFile.watch.escalationThreshold.open;
    const toMs = atMs + 1.1 * (checkMs + (enough - 1) * recheckMs);
    return [leftOpen(lastMs - momentMs, Math.max(toMs, lastMs + leaveOpenMs))];
  },
  'open-after-wrap': (times, mistake) =>
    twoAlerts(times, () => namedMoment(times.bench, mistake) + hourMs),
  'open-weeks-apart': (times) =>
    twoAlerts(times, (deliveredMs) => deliveredMs + times.cooldownMs + 26 * dayMs),
};

/** When it shows at the soonest: some count of wakes is the beginning of that wake. */
function namedMoment(bench: Bench, { name, showsAfterMs }: Mutant): number {
  const { watch } = bench.watchFile;
  const afterMs = showsAfterMs?.(watch) ?? 0;
  if (!name.startsWith('wakes-')) return afterMs;
  const shut = { lengthMs: 1.01 * afterMs + dayMs, door: [] };
  return (bench.checks(shut, 0)[afterMs / watch.checkIntervalMs - 1] ?? 0) - momentMs;
}

/** A door left open until its alert on the first day, and another from an instant on that is known once the first is delivered. */
function twoAlerts(
  { bench, longMs }: Times,
  again: (deliveredMs: number) => number,
): readonly Script[] {
  const fromMs = dayMs / 2;
  const { deliveredMs } = bench.alert(leftOpen(fromMs, fromMs + longMs), fromMs);
  const againMs = again(deliveredMs);
  const door: readonly Span[] = [
    [fromMs, deliveredMs + momentMs],
    [againMs, againMs + longMs],
  ];
  return [{ lengthMs: againMs + longMs, door }];
}

/** The door shuts after a check at which it was open, for one check or more, and is open again until its alert. */
function shutFor(
  { bench, fromMs, longMs }: Times,
  openCheckMs: number,
  most: number,
): readonly Script[] {
  const shutMs = openCheckMs + momentMs;
  const checks = bench.checks({ lengthMs: shutMs + longMs, door: [[fromMs, shutMs]] }, shutMs);
  return checks.slice(0, most).map((checkMs) => {
    const againMs = checkMs + momentMs;
    return {
      lengthMs: againMs + longMs,
      door: [
        [fromMs, shutMs],
        [againMs, againMs + longMs],
      ],
    };
  });
}
