// Heartbeats that a working device sends and nobody receives. Each is lost on the way with the chance p, or meets a network
// outage: it has one try. Outages come in spells: while a spell lasts, the network is down each day at the same hour, for as long
// as the watch file's longest outage L. Spells begin at a rate a and last 1/b on average, both exponential, and the hour s is uniform
// over the day and the same for all of them. So given s, `in a spell or not` is a Markov chain of two states, and the
// chance of a row of messages is the sum over its paths (the forward algorithm), averaged over s:
//
//   P(k heartbeats missing) = ∫ ds/day  Σ paths  Π (in a spell and (t − s) mod day < L ? 1 : p)
//
// A message that arrived rules out that the network was down then. All is given what was heard up to the last message.
import { cellAt, dayMs, deviceMs, invariant, lastsMs, yearMs } from '../base/index.js';
import { clockErrorsOf, mostSpellHours } from '../model/index.js';
import type { WatchFile } from '../scenarios/index.js';
import type { Priors } from './priors.js';

/** Instants of one scale, in ms. */
export interface BeatsAsked {
  /** At which a message of any kind arrived. */
  readonly arrivedMs: readonly number[];
  /** Due and missing since the last heartbeat that arrived, ascending; also those before the last message of another kind. */
  readonly missingMs: readonly number[];
  /** The last message; the answer counts the heartbeats missing after it. */
  readonly heardMs: number;
}

/** By the count of the first heartbeats due after the last message: none, one, two … */
export interface BeatsMissed {
  /** The chance that none of them arrives. */
  readonly all: Float64Array;
  /** That none of them arrives, and none met an outage. */
  readonly unmet: Float64Array;
}

/** Each at the latest: an interval after the one before, at the check after that, on the slowest clock. */
export function beatsDue(
  { watch, timing }: Pick<WatchFile, 'watch' | 'timing'>,
  span: { readonly fromMs: number; readonly lengthMs: number },
): readonly number[] {
  const beat = watch.heartbeatIntervalMs;
  if (beat === null) return [];
  const { most } = clockErrorsOf(timing.clockError);
  const everyMs =
    lastsMs(beat, most) +
    lastsMs(deviceMs(watch.checkIntervalMs), most) +
    timing.bootTime.most +
    timing.connectTime.most +
    timing.joinWaitMs;
  const due: number[] = [];
  for (let atMs = span.fromMs + everyMs; atMs <= span.lengthMs; atMs += everyMs) due.push(atMs);
  return due;
}

/**
 * Outages of this length can be among the explanations of a device that works. One of a day or more is not: it keeps alerts away as
 * well, like a network that has ended.
 */
export function areDaily(longestOutageMs: number): boolean {
  return longestOutageMs > 0 && longestOutageMs < dayMs;
}

export function beatsMissed(
  asked: BeatsAsked,
  priors: Priors,
  longestOutageMs: number,
): BeatsMissed {
  const { lostShare, outagesPerYear, spellMs } = priors;
  const after = asked.missingMs.filter((atMs) => atMs > asked.heardMs).length;
  if (!areDaily(longestOutageMs) || outagesPerYear === 0) {
    const lost = Float64Array.from({ length: after + 1 }, (_, count) => lostShare ** count);
    return { all: lost, unmet: lost };
  }
  const chain = chainOf(outagesPerYear, spellMs);
  const events = eventsOf(asked);
  const sums = { all: new Float64Array(after + 1), unmet: new Float64Array(after + 1) };
  for (const { atMs, share } of hoursOf(events, longestOutageMs)) {
    addHour(sums, events, { chain, lostShare, atMs, share, outageMs: longestOutageMs });
  }
  const known = cellAt(sums.all, 0);
  if (known === 0) {
    // These priors do not explain the number that is missing before the last message, so those are left out for the rest.
    const missingMs = asked.missingMs.filter((atMs) => atMs > asked.heardMs);
    invariant(missingMs.length < asked.missingMs.length, 'what arrived can be', { asked });
    return beatsMissed({ ...asked, missingMs }, priors, longestOutageMs);
  }
  const given = (list: Float64Array): Float64Array => list.map((chance) => chance / known);
  return { all: given(sums.all), unmet: given(sums.unmet) };
}

interface Event {
  readonly atMs: number;
  readonly kind: 'arrived' | 'missing before' | 'missing after';
}

function eventsOf({ arrivedMs, missingMs, heardMs }: BeatsAsked): readonly Event[] {
  const missing = missingMs.map(
    (atMs): Event => ({ atMs, kind: atMs > heardMs ? 'missing after' : 'missing before' }),
  );
  const arrived = arrivedMs.map((atMs): Event => ({ atMs, kind: 'arrived' }));
  return [...arrived, ...missing].sort((a, b) => a.atMs - b.atMs);
}

/** Of the two states: how much of the time is in a spell, and how fast the chain forgets. */
interface Chain {
  readonly inSpell: number;
  readonly perMs: number;
}

function chainOf(perYear: number, spellMs: number): Chain {
  const begins = perYear / yearMs;
  const ends = 1 / spellMs;
  return { inSpell: begins / (begins + ends), perMs: begins + ends };
}

interface Hour {
  readonly atMs: number;
  readonly share: number;
}

/** The hours of a day at which the outages of a spell may begin: between two of these every message is met, or missed, alike. */
function hoursOf(events: readonly Event[], outageMs: number): readonly Hour[] {
  const edges = new Set<number>([0]);
  for (const { atMs } of events) edges.add(ofDay(atMs)).add(ofDay(atMs - outageMs));
  if (edges.size > mostSpellHours) {
    const share = 1 / mostSpellHours;
    return Array.from({ length: mostSpellHours }, (_, index) => ({
      atMs: (index + 0.5) * share * dayMs,
      share,
    }));
  }
  const sorted = Float64Array.from(edges).sort((a, b) => a - b);
  return Array.from(sorted, (from, index) => {
    const to = sorted[index + 1] ?? dayMs;
    return { atMs: (from + to) / 2, share: (to - from) / dayMs };
  });
}

function ofDay(ms: number): number {
  return ((ms % dayMs) + dayMs) % dayMs;
}

/** A chance this small beside that of any other hour changes no figure. */
const negligible = 1e-150;

/** Adds the chances at one hour, weighted by its share of the day. */
function addHour(
  sums: { readonly all: Float64Array; readonly unmet: Float64Array },
  events: readonly Event[],
  at: Hour & { readonly chain: Chain; readonly lostShare: number; readonly outageMs: number },
): void {
  const { chain, lostShare, atMs, share, outageMs } = at;
  const { inSpell, perMs } = chain;
  // Weights: not in a spell, in one; and the same where no missing heartbeat after the last message met an outage.
  let [off, on] = [1 - inSpell, inSpell];
  let [offUnmet, onUnmet] = [off, on];
  let beforeMs = events[0]?.atMs ?? 0;
  let count = 0;
  const keep = (): void => {
    sums.all[count] = cellAt(sums.all, count) + share * (off + on);
    sums.unmet[count] = cellAt(sums.unmet, count) + share * (offUnmet + onUnmet);
  };
  let isHeard = false;
  for (const event of events) {
    const kept = Math.exp(-perMs * (event.atMs - beforeMs));
    beforeMs = event.atMs;
    [off, on] = passed(off, on, { inSpell, kept });
    [offUnmet, onUnmet] = passed(offUnmet, onUnmet, { inSpell, kept });
    const isMet = ofDay(event.atMs - atMs) < outageMs;
    if (event.kind === 'arrived') {
      if (isMet) [on, onUnmet] = [0, 0];
      continue;
    }
    if (event.kind === 'missing after' && !isHeard) {
      keep();
      isHeard = true;
    }
    off *= lostShare;
    on *= isMet ? 1 : lostShare;
    offUnmet *= lostShare;
    onUnmet *= isMet ? (event.kind === 'missing after' ? 0 : 1) : lostShare;
    if (event.kind !== 'missing after') continue;
    count += 1;
    keep();
    if (off + on < negligible) return;
  }
  if (!isHeard) keep();
}

function passed(
  off: number,
  on: number,
  { inSpell, kept }: { readonly inSpell: number; readonly kept: number },
): [off: number, on: number] {
  const all = off + on;
  const next = all * inSpell + (on - all * inSpell) * kept;
  return [all - next, next];
}
