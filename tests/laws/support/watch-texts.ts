// Random watch files as text: every section and every key there or not, each value in some notation of its own, and
// always in order: a file of these that is refused, or that makes anything contradict itself, is a find.

import { Document } from 'yaml';
import { supplyPresetNames } from '../../../src/model/index.js';
import { type Draw, drawFrom } from './draw.js';
import { durationWords, gapWords, ppmWords, styled, written } from './notation.js';

/** How much of a search a watch may cost: `quick` ones leave out what multiplies states. */
export type Effort = 'quick' | 'any';

/** The watch file of a case. The same seed and index give the same text. */
export function watchTextOf(seed: string, index: number, effort: Effort = 'any'): string {
  const draw = drawFrom(seed, 'watch', index);
  const root = withPeople(
    written(watchRoot(draw, effort), draw),
    opensAtLeastUmOf(seed, index),
    drawFrom(seed, 'people', index),
  );
  // JSON is YAML; some owners write it.
  if (draw.chance(0.1)) return `${JSON.stringify(root, null, draw.pick([0, 2]))}\n`;
  return styled(new Document(root, { version: '1.2' }), draw);
}

const checkMs = [
  10, 50, 1_000, 5_000, 10_000, 20_000, 30_000, 45_000, 60_000, 90_000, 100_000, 120_000, 150_000,
  180_000, 240_000, 300_000, 600_000, 900_000, 1_800_000, 3_600_000,
] as const;
const usualMs = [30_000, 60_000, 90_000, 120_000, 150_000, 180_000, 300_000, 600_000] as const;

/** A length near a rhythm, sometimes a millisecond beside it: limits are where mistakes are. */
function aboutMs(draw: Draw, rhythmMs: number, most: number): number {
  const ms = Math.round(rhythmMs * draw.pick([0.25, 0.5, 1, 1, 1.5, 2, 3, 5]));
  return Math.max(10, Math.min(ms + draw.pick([0, 0, 0, 0, 1, -1]), most));
}

const monthMs = 30 * 86_400_000;

function watchRoot(draw: Draw, effort: Effort): object {
  const sleepMs = draw.chance(0.8) ? draw.pick(usualMs) : draw.pick(checkMs);
  const isPlain = effort === 'quick';
  return {
    watch: draw.maybe(0.95, () => watchSection(draw, sleepMs, isPlain)),
    device: draw.maybe(0.7, () => deviceSection(draw, sleepMs)),
    judge: draw.maybe(0.8, () => judgeSection(draw, sleepMs)),
    contact: draw.maybe(0.3, () => contactSection(draw)),
    door: draw.maybe(0.2, () => ({
      sealGap: draw.maybe(0.9, () => gapWords(draw.pick([0, 1_000, 2_000, 4_500]), draw)),
    })),
    supply: draw.maybe(0.6, () => supplySection(draw)),
    environment: draw.maybe(0.5, () => environmentSection(draw, sleepMs, isPlain)),
  };
}

function watchSection(draw: Draw, sleepMs: number, isPlain: boolean): object {
  const duration = (ms: number): string => durationWords(ms, draw);
  const about = (most: number): string => duration(aboutMs(draw, sleepMs, most));
  const open = draw.pick([1, 2, 2, 2, 3, 3, isPlain ? 3 : 5]);
  return {
    checkInterval: draw.maybe(0.9, () => duration(sleepMs)),
    recheckInterval: draw.maybe(0.5, () => about(monthMs)),
    escalationThreshold: draw.maybe(0.8, () =>
      draw.chance(0.75) ? open : { open, outOf: open + draw.pick([0, 1, 1, 2]) },
    ),
    clearThreshold: draw.maybe(0.3, () => draw.pick(isPlain ? [1, 1, 2] : [1, 2, 3])),
    alertCooldown: draw.maybe(0.7, () => duration(cooldownMs(draw, sleepMs))),
    cooldownEndsWhenShut: draw.maybe(0.4, () => draw.chance(0.5)),
    afterAlert: draw.maybe(0.4, () =>
      draw.pick(['keep-watching', 'keep-watching', 'hold-until-reset']),
    ),
    // The usual five attempts are many states.
    retry: draw.maybe(isPlain ? 0.8 : 0.4, () => ({
      interval: draw.maybe(0.7, () => about(monthMs)),
      attempts: draw.maybe(isPlain ? 1 : 0.7, () => draw.pick(isPlain ? [1, 2] : [1, 2, 3, 5, 10])),
    })),
    unsentWhenShut: draw.maybe(0.4, () => draw.pick(['send', 'drop'])),
    wakeOn: draw.maybe(isPlain ? 0.25 : 0.4, () =>
      draw.pick(['timer', 'timer', 'opening', 'any-change']),
    ),
    heartbeatInterval: draw.maybe(isPlain ? 0.1 : 0.35, () =>
      draw.pick([
        'off',
        duration(draw.pick([3_600_000, 21_600_000, 86_400_000])),
        heart(draw, sleepMs),
      ]),
    ),
  };
}

function heart(draw: Draw, sleepMs: number): string {
  return durationWords(Math.max(1_000, aboutMs(draw, sleepMs * 4, monthMs)), draw);
}

function cooldownMs(draw: Draw, sleepMs: number): number {
  return draw.pick([0, 600_000, 1_800_000, 3_600_000, aboutMs(draw, sleepMs, monthMs)]);
}

function deviceSection(draw: Draw, sleepMs: number): object {
  const most = Math.max(10, Math.min(60_000, Math.floor(sleepMs / 4)));
  const varying = (usual: readonly number[]): unknown => {
    const ms = (): number => Math.min(draw.pick(usual), most);
    if (draw.chance(0.65)) return durationWords(ms(), draw);
    const [one, other] = [ms(), ms()];
    return {
      min: durationWords(Math.min(one, other), draw),
      max: durationWords(Math.max(one, other), draw),
    };
  };
  return {
    bootTime: draw.maybe(0.6, () => varying([0, 1, 120, 250, 400, 800, 1_500, 3_000])),
    connectTime: draw.maybe(0.6, () => varying([0, 1, 900, 2_000, 4_000, 6_000, 8_500, 20_000])),
    clockError: draw.maybe(0.6, () => clockError(draw)),
    reset: draw.maybe(0.3, () => ({
      button: draw.maybe(0.8, () => draw.pick(['keeps', 'clears'])),
      watchdog: draw.maybe(0.5, () => draw.pick(['keeps', 'clears'])),
      software: draw.maybe(0.5, () => draw.pick(['keeps', 'clears'])),
    })),
  };
}

/** The least gap of an open door in the watch file of a case, if it has one: its scenario keeps to it. */
export function opensAtLeastUmOf(seed: string, index: number): number | undefined {
  const draw = drawFrom(seed, 'opens', index);
  return draw.maybe(0.2, () => draw.pick([5_000, 12_000, 60_000]));
}

/** The sections about people and messages, a door that never rests ajar, and cells: drawn beside the rest. */
function withPeople(root: unknown, opensUm: number | undefined, draw: Draw): object {
  const { door, supply, ...others }: { door?: Section; supply?: Section } = Object(root);
  const rest = waitingForNetwork(others, draw);
  const cells = supply === undefined ? undefined : draw.maybe(0.25, () => cellsOf(supply, draw));
  return {
    ...rest,
    ...(opensUm === undefined
      ? Object.fromEntries(Object.entries({ door }).filter(([, section]) => section !== undefined))
      : { door: { ...door, opensAtLeast: gapWords(opensUm, draw) } }),
    ...(supply === undefined ? {} : { supply: cells ?? supply }),
    ...Object.fromEntries(
      Object.entries({
        answer: draw.maybe(0.25, () => answerSection(draw)),
        delivery: draw.maybe(0.15, () => ({
          lost: draw.pick(['0%', '0.1%', '5%']),
          seenAfter: '2m',
        })),
      }).filter(([, section]) => section !== undefined),
    ),
  };
}

type Section = Readonly<Record<string, unknown>>;

/** Sometimes the device waits awake for the network. */
function waitingForNetwork(root: { readonly device?: Section }, draw: Draw): object {
  const joinWait = draw.maybe(0.2, () => draw.pick(['0s', '1s', '20s', '1m']));
  return joinWait === undefined ? root : { ...root, device: { ...root.device, joinWait } };
}

function cellsOf(supply: Section, draw: Draw): Section {
  const given = new Set(['capacity', 'usable', 'selfDischarge']);
  const rest = Object.fromEntries(Object.entries(supply).filter(([key]) => !given.has(key)));
  const cells = draw.pick([
    'alkaline-aa',
    'lithium-aaa',
    'nimh-aa',
    'li-ion-18650',
    'lithium-coin',
  ]);
  const kind = draw.maybe(0.5, () => draw.pick(['linear', 'boost', 'buck']));
  return {
    ...rest,
    cells,
    ...(cells === 'lithium-coin' ? { capacity: '220mAh' } : {}),
    // Only a boost regulator raises the voltage of fewer cells.
    series: draw.whole(kind === 'linear' || kind === 'buck' ? 3 : 1, 4),
    ...(draw.chance(0.3) ? { parallel: 2 } : {}),
    ...(kind === undefined
      ? {}
      : {
          regulator: {
            kind,
            quiescent: draw.pick(['0uA', '1.5uA', '60uA']),
            ...(kind === 'linear' ? {} : { efficiency: '85%' }),
          },
        }),
  };
}

function answerSection(draw: Draw): object {
  const soon = draw.pick<unknown>([
    '15m',
    { median: '15m', sigma: 0.8 },
    { day: '15m', night: '8h', nightFrom: '22:00', nightUntil: '06:30' },
  ]);
  return {
    afterAlert: soon,
    ...(draw.chance(0.3) ? { afterMissedHeartbeat: '1d' } : {}),
    ...(draw.chance(0.4) ? { charges: { every: draw.pick(['2w', '3w', '60d']) } } : {}),
  };
}

const errorsPpm = [0, 20, -150, 5_000, 10_000, -10_000, 20_000, -20_000, 32_000, 50_000, -60_000];

function clockError(draw: Draw): unknown {
  const error = (): number => draw.pick(errorsPpm);
  const kind = draw.pick(['one', 'one', 'range', 'curve']);
  if (kind === 'one') return ppmWords(error(), draw);
  if (kind === 'range') {
    const [one, other] = [error(), error()];
    return { min: ppmWords(Math.min(one, other), draw), max: ppmWords(Math.max(one, other), draw) };
  }
  const celsius = draw.shuffled([-40, -25, -18.5, 0, 4, 25, 40, 85]).slice(0, draw.whole(1, 4));
  return {
    byTemperature: celsius.map((at) => ({ celsius: at, error: ppmWords(error(), draw) })),
  };
}

function judgeSection(draw: Draw, sleepMs: number): object {
  return {
    leaveOpenAfter: draw.maybe(0.9, () => durationWords(aboutMs(draw, sleepMs * 2, monthMs), draw)),
    reportWithin: draw.maybe(0.5, () => durationWords(aboutMs(draw, sleepMs * 3, monthMs), draw)),
    quietUpTo: draw.maybe(0.5, () =>
      durationWords(draw.pick([0, 20_000, 45_000, aboutMs(draw, sleepMs / 2, monthMs)]), draw),
    ),
  };
}

function contactSection(draw: Draw): object {
  const operate = draw.pick([0, 4_000, 8_000, 10_500]);
  return {
    operateGap: gapWords(operate, draw),
    releaseGap: gapWords(operate + draw.pick([0, 1_000, 4_000, 12_000]), draw),
    bounceTime: draw.maybe(0.5, () => durationWords(draw.pick([0, 1, 1, 3, 40]), draw)),
  };
}

function environmentSection(draw: Draw, sleepMs: number, isPlain: boolean): object {
  const longest = draw.maybe(0.6, () => aboutMs(draw, sleepMs * draw.pick([1, 4, 20]), monthMs));
  const outages =
    longest === undefined || isPlain ? undefined : draw.maybe(0.3, () => draw.pick([1, 2]));
  const losses = draw.maybe(isPlain ? 0.25 : 0.4, () => draw.pick(isPlain ? [0, 1] : [0, 1, 1, 2]));
  return {
    longestOutage: longest === undefined ? undefined : durationWords(longest, draw),
    outages,
    outagesApart:
      outages === 2
        ? draw.maybe(0.5, () => durationWords(aboutMs(draw, sleepMs * 5, monthMs), draw))
        : undefined,
    powerLosses: losses,
    powerLossLasting:
      losses !== undefined && losses > 0
        ? draw.maybe(0.5, () => durationWords(draw.pick([1, 1_000, 60_000, 600_000]), draw))
        : undefined,
    resets: draw.maybe(isPlain ? 0.15 : 0.3, () => draw.pick(isPlain ? [0, 1] : [0, 1, 2])),
    longestChatter: draw.maybe(isPlain ? 0.15 : 0.25, () =>
      durationWords(draw.pick([0, 1_000, 30_000, aboutMs(draw, sleepMs, monthMs)]), draw),
    ),
  };
}

function supplySection(draw: Draw): object {
  const preset = draw.maybe(0.6, () => draw.pick(supplyPresetNames));
  const share = (percent: readonly number[]): string => `${String(draw.pick(percent))}%`;
  const current = (na: number): string =>
    draw.pick([`${String(na / 1_000)}uA`, `${String(na / 1_000_000)}mA`]);
  const act = (time: boolean): object =>
    draw.chance(0.3)
      ? { charge: draw.pick(['3.8mC', '13.3mC', '2uAh']) }
      : {
          current: current(draw.pick([12_000_000, 30_000_000, 48_000_000])),
          time:
            time || draw.chance(0.3) ? durationWords(draw.pick([5, 200, 3_000]), draw) : undefined,
        };
  const celsius = draw.maybe(0.2, () => draw.pick([-18, 4, 21.5]));
  return {
    preset,
    capacity: draw.pick(['220mAh', '650mAh', '1.1Ah', '2600mAh', '35mAh']),
    usable: draw.maybe(0.4, () => share([80, 92.5, 100])),
    selfDischarge: draw.maybe(0.4, () =>
      draw.chance(0.5)
        ? share([0, 0.2, 3])
        : {
            firstDay: draw.maybe(0.5, () => share([1, 5])),
            perMonth: draw.maybe(0.8, () => share([1, 2])),
            protectionPerMonth: draw.maybe(0.3, () => share([3])),
          },
    ),
    celsius,
    derating:
      celsius === undefined
        ? undefined
        : [
            { celsius: 20, share: '100%' },
            { celsius: -20, share: share([40, 55.5]) },
          ],
    sleepCurrent:
      preset === undefined || draw.chance(0.3)
        ? current(draw.pick([0, 900, 4_500, 12_000, 85_000]))
        : undefined,
    boot: draw.maybe(0.4, () => act(false)),
    blink: draw.maybe(0.2, () => act(true)),
    connect: draw.maybe(0.4, () => act(false)),
    failedAttempt: draw.maybe(0.2, () => act(false)),
    hold: draw.maybe(0.2, () => ({ current: current(draw.pick([9_000_000, 40_000_000])) })),
    heartbeat: draw.maybe(0.2, () => act(false)),
    contactBias: draw.maybe(0.2, () => ({
      resistance: draw.pick(['47kOhm', '1MOhm', '220kOhm']),
      voltage: draw.maybe(0.5, () => draw.pick(['3.0V', '3300mV'])),
      powered: draw.maybe(0.5, () => draw.pick(['always', 'check-only'])),
    })),
    voltageCurve: draw.maybe(0.2, () => [
      { left: '0%', voltage: draw.pick(['3.0V', '3.2V']) },
      { left: '35%', voltage: '3.65V' },
      { left: '100%', voltage: '4.15V' },
    ]),
  };
}
