// The options of `margin` as numbers, each from the one place that says it.
import { shellWord } from '../../base/index.js';
import {
  type Demanded,
  type Gaps,
  gapsOf,
  longestMs,
  searched,
  searchesFor,
  TooManyStatesError,
} from '../../bounds/index.js';
import {
  airExchange,
  airTauMs,
  fitWarmUp,
  type Limit,
  type NamedLimit,
  namedLimits,
  type Space,
} from '../../margin/index.js';
import { parseCelsius, parseLength, parseReadings, parseVolume } from '../../scenarios/index.js';
import { durationOf } from '../arguments/values.js';
import { boundsQuestion } from '../bounds/search.js';
import type { Io } from '../host/io.js';
import { readText } from '../host/read-text.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { problem, valueOf, valueOfFile } from '../problem.js';
import type { MarginOptions } from './options.js';

/** One way in which the space warms. */
export interface Warming {
  readonly kind: 'open' | 'ajar' | 'readings' | 'doorway';
  readonly tauMs: number;
  /** What else was found on the way to it. */
  readonly fitted: { readonly readings: number; readonly worstMisfitCelsius: number } | null;
  readonly exchange: { readonly flow: number; readonly densityFactor: number } | null;
}

export interface MarginInput extends Space {
  /** The watch file as it was given. */
  readonly config: string | undefined;
  readonly limit: Limit;
  readonly named: NamedLimit | null;
  readonly warmings: readonly Warming[];
  readonly worstDelayMs: number;
  readonly delayFrom: 'given' | 'watch-file';
  /** Of `delivery:` in the watch file. */
  readonly seenAfterMs: number;
  readonly lostPpm: number;
  /** For which openings the worst detection latency of a watch file holds; null: for all. */
  readonly gaps: Gaps | null;
  /** Whether the watch file has a supply, without which nothing is tuned. */
  readonly hasSupply: boolean;
  /** Whether the latency of the watch file is one with faults. */
  readonly withFaults: boolean;
  /** What the latency of the watch file is proved for; null: it is given as a number. */
  readonly proved: Demanded | null;
  readonly responseMs: number;
}

/** @throws InputProblem for the first option that cannot be believed. */
export async function marginInput(options: MarginOptions, io: Io): Promise<MarginInput> {
  const space = {
    startCelsius: celsiusOf('--start', options.start),
    outsideCelsius: celsiusOf('--outside', options.outside),
  };
  const { limit, named } = limitOf(options.limit, space);
  refuseBeyond(limit, space, named?.name);
  const warmings = [
    ...tauOf('open', '--tau-open', options.tauOpen),
    ...tauOf('ajar', '--tau-ajar', options.tauAjar),
    ...(await fittedOf(options.readings, space, io)),
    ...doorwayOf(options, space),
  ];
  if (warmings.length === 0) {
    throw problem('warming-missing', '--tau-open', {
      message: 'nothing says how fast the space warms',
      expected: '--tau-open, --tau-ajar, --readings, or --door-width, --door-height and --volume',
      hint: 'two temperatures with the door open are enough: --readings warming.csv',
    });
  }
  const delay = await delayOf(options, io);
  const responseMs = durationOf('--response', options.response);
  return { ...space, config: options.config, limit, named, warmings, ...delay, responseMs };
}

function celsiusOf(option: string, text: string | undefined): number {
  if (text !== undefined) return valueOf(parseCelsius(text, { file: option }));
  throw problem('option-missing', option, {
    message: 'this option is required',
    expected: `a temperature, such as ${option} 4C`,
  });
}

/** A start that is beyond the limit already is a slip, and no finding. */
function refuseBeyond({ celsius, passed }: Limit, { startCelsius }: Space, name?: string): void {
  const isBeyond = passed === 'rising' ? startCelsius >= celsius : startCelsius <= celsius;
  if (!isBeyond) return;
  const limit = `${String(celsius)} °C${name === undefined ? '' : ` (${name})`}`;
  throw problem('start-beyond-limit', '--start', {
    message: `this is not ${passed === 'rising' ? 'below' : 'above'} the limit of ${limit}`,
    found: `${String(startCelsius)} °C`,
    hint:
      passed === 'rising'
        ? 'the space is too warm before the door opens: check --start and --limit'
        : 'the space is too cold before the door opens: check --start and --limit',
  });
}

function limitOf(text: string | undefined, space: Space) {
  const names = namedLimits.map(({ name }) => name).join(', ');
  const expected = `a temperature such as 5C, or one of ${names}`;
  if (text === undefined) {
    throw problem('option-missing', '--limit', { message: 'this option is required', expected });
  }
  const named = namedLimits.find(({ name }) => name === text.trim());
  if (named !== undefined) return { limit: named, named };
  if (/^[a-z][a-z-]+$/iu.test(text.trim())) {
    const message = 'this is not a temperature, and not the name of a limit';
    throw problem('unknown-limit', '--limit', { message, found: text, expected });
  }
  const celsius = valueOf(parseCelsius(text, { file: '--limit' }));
  // A space that cools has a lower limit below its start; one above it is an upper limit, which is never reached.
  const warms = space.outsideCelsius >= space.startCelsius;
  const passed = warms || celsius > space.startCelsius ? 'rising' : 'falling';
  return { limit: { celsius, passed } as const, named: null };
}

function tauOf(kind: 'open' | 'ajar', option: string, text: string | undefined): Warming[] {
  if (text === undefined) return [];
  const tauMs = durationOf(option, text, { least: 1, most: Number.POSITIVE_INFINITY });
  return [{ kind, tauMs, fitted: null, exchange: null }];
}

async function fittedOf(file: string | undefined, space: Space, io: Io): Promise<Warming[]> {
  if (file === undefined) return [];
  const text = await readText(file, io);
  const readings = valueOfFile(parseReadings(text, file), text, {
    file,
    wanted: 'log of temperatures',
  });
  const fit = valueOf(fitWarmUp(readings, space.outsideCelsius, { file }));
  const { tauMs, worstMisfitCelsius } = fit;
  const fitted = { readings: fit.readings, worstMisfitCelsius };
  return [{ kind: 'readings', tauMs, fitted, exchange: null }];
}

function doorwayOf(options: MarginOptions, space: Space): Warming[] {
  const { doorWidth, doorHeight, volume } = options;
  const given = [doorWidth, doorHeight, volume].filter((text) => text !== undefined);
  if (given.length === 0) return [];
  if (doorWidth === undefined || doorHeight === undefined || volume === undefined) {
    throw problem('doorway-incomplete', '--door-width', {
      message: 'the size of the doorway or of the room is missing',
      expected: '--door-width, --door-height and --volume together',
    });
  }
  const doorway = {
    widthMm: valueOf(parseLength(doorWidth, { file: '--door-width' })),
    heightMm: valueOf(parseLength(doorHeight, { file: '--door-height' })),
  };
  const litres = valueOf(parseVolume(volume, { file: '--volume' }));
  const exchange = airExchange(doorway, space.startCelsius, space.outsideCelsius);
  const tauMs = airTauMs(litres, exchange);
  if (tauMs !== null) return [{ kind: 'doorway', tauMs, fitted: null, exchange }];
  throw problem('no-air-exchange', '--outside', {
    message: 'no air flows through the door if it is equally warm on both sides',
    found: `${String(space.outsideCelsius)} °C on both sides`,
    hint: 'give another --outside or --start, or a time constant with --tau-open',
  });
}

async function delayOf({ worstDelay, config }: MarginOptions, io: Io) {
  if (worstDelay !== undefined && config !== undefined) {
    throw problem('delay-twice', '--worst-delay', {
      message: 'the worst detection latency is given twice: as a number, and by a watch file',
      hint: 'leave out --worst-delay or --config',
    });
  }
  if (worstDelay !== undefined) {
    const worstDelayMs = durationOf('--worst-delay', worstDelay);
    const unknown = { gaps: null, hasSupply: false, withFaults: false, proved: null };
    return { worstDelayMs, delayFrom: 'given', seenAfterMs: 0, lostPpm: 0, ...unknown } as const;
  }
  if (config === undefined) {
    throw problem('delay-missing', '--worst-delay', {
      message: 'nothing says how late an alert can arrive',
      expected: '--worst-delay 8m, or a watch file with -c',
    });
  }
  const watch = await loadWatch(config, io);
  const { delivery, supply } = watch.watchFile;
  const hasSupply = supply !== null;
  const worstDelayMs = provedDelayMs(watch, config);
  const gaps = gapsOf(watch.watchFile);
  const { longestOutageMs, powerLosses, resets, longestChatterMs } = watch.watchFile.environment;
  const withFaults = longestOutageMs + powerLosses + resets + longestChatterMs > 0;
  const of = { worstDelayMs, delayFrom: 'watch-file', gaps, hasSupply, withFaults } as const;
  return { ...of, proved: watch.watchFile, ...delivery };
}

/** The worst detection latency at rest, in the environment of the watch file, as `bounds` proves it. */
function provedDelayMs({ watchFile, program }: LoadedWatch, config: string): number {
  try {
    const { result } = searched(
      boundsQuestion({ watchFile, table: program.table, ownLogic: false }),
      searchesFor.atRest,
    );
    const worstMs = longestMs(result);
    if (worstMs !== null) return worstMs;
  } catch (error) {
    if (!(error instanceof TooManyStatesError)) throw error;
    throw problem('too-many-states', config, {
      message: 'the search for the worst detection latency has too many states and stopped',
      hint: 'give the latency with --worst-delay, or allow less under environment: in the watch file',
    });
  }
  throw problem('delay-unbounded', config, {
    message: 'this watch has no worst detection latency: an open door may never be reported',
    hint: `dozewatch bounds -c ${shellWord(config)} shows how, and what would help`,
  });
}
