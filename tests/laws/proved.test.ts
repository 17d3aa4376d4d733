// What is proved of random watch files is never beaten by a random timeline with every fault that their environment allows, and
// each bound has a witness that a naive interpreter replays to the millisecond.
import { describe, expect, it } from 'vitest';
import { aliasingOf } from '../../src/bounds/aliasing/aliasing.js';
import { shownOf } from '../../src/bounds/evidence/witnesses.js';
import { overridesOf, settingsIn } from '../../src/planner/settings.js';
import { overlaidWatchText, parseWatchFile, type WatchFile } from '../../src/scenarios/index.js';
import { interpret } from '../support/oracle.js';
import { alertsOfBriefs } from './support/briefs.js';
import { drawFrom } from './support/draw.js';
import { type LawCase, programOf, questionIn, searchedFor } from './support/law-case.js';
import { claimsOf, provedLaw } from './support/proved-laws.js';
import { watchTextOf } from './support/watch-texts.js';

const cases = 300;
const perTest = 50;
/** States of one search: a case that needs more claims nothing here, and is for the soak. */
const mostNodes = 2_000;
const mostWakes = 2_000;
const shortestSleepMs = 1_000;

type Case = Pick<LawCase, 'seed' | 'index' | 'watchFile' | 'program'> & { readonly text: string };

function caseOf(index: number): Case {
  const seed = 'proved';
  const text = watchTextOf(seed, index, 'quick');
  const watchFile = readFile(text);
  return { seed, index, text, watchFile, program: programOf(watchFile) };
}

function readFile(text: string): WatchFile {
  const read = parseWatchFile(text, 'watch.yaml');
  if (!read.ok) throw new Error(`refused: ${JSON.stringify(read.errors)}\n${text}`);
  return read.value;
}

function searchesOf(one: Case) {
  const question = questionIn(one);
  return {
    atRest: searchedFor(question, 'atRest', mostNodes),
    anyState: searchedFor(question, 'anyState', mostNodes),
    quickest: searchedFor(question, 'quickest', mostNodes),
  };
}

type Searches = ReturnType<typeof searchesOf>;

/** Every witness that does not show its bound when the rules are followed one by one. */
function wrongWitnesses(one: Case, searches: Searches): readonly string[] {
  const { program } = one;
  const { checkIntervalMs, recheckIntervalMs, retryIntervalMs } = program.watch;
  const sleepMs = Math.min(checkIntervalMs, recheckIntervalMs, retryIntervalMs);
  // Runs of very many wakes are long to make plain.
  if (sleepMs < shortestSleepMs) return [];
  return shownOf(questionIn(one), searches).witnesses.flatMap((witness) => {
    const { bound, opening, experiment, decidedAfterMs, deliveredAfterMs } = witness;
    const { world, timing } = experiment;
    // The interpreter goes from wake to wake, and counts each.
    if (world.lengthMs > mostWakes * sleepMs) return [];
    const { alerts } = interpret({ program, timing, world, seed: 'laws' });
    const fromMs = world.openings.fromMs[opening] ?? 0;
    const toMs = world.openings.toMs[opening] ?? Number.POSITIVE_INFINITY;
    const own = alerts.filter(({ decidedMs }) => fromMs <= decidedMs && decidedMs < toMs);
    const sent = own.flatMap(({ deliveredMs }) => (deliveredMs === null ? [] : [deliveredMs]));
    const decided = own[0] === undefined ? null : own[0].decidedMs - fromMs;
    const delivered = sent.length === 0 ? null : Math.min(...sent) - fromMs;
    const isShown =
      decided === decidedAfterMs && (deliveredAfterMs === null || delivered === deliveredAfterMs);
    return isShown ? [] : [`${bound}: ${String(decided)}, ${String(delivered)}`];
  });
}

/** The watch file that the planner gives out for one that was dropped in. */
function throughPlanner({ text }: Case): WatchFile {
  const overrides = overridesOf(settingsIn(text, 'watch.yaml') ?? {});
  return readFile(overlaidWatchText(null, 'watch.yaml', { overrides, comment: [] }));
}

/** A case whose device sees every edge of the contact at once: only such a one can never be misled. Null: it needs too long. */
function seeingEveryEdge(index: number): Case | null {
  const { text, ...one } = caseOf(index);
  const setting = (path: string, value: string) => ({
    path: path.split('.'),
    value,
    text: value,
    source: 'a law',
  });
  const read = parseWatchFile(text, 'watch.yaml', [
    setting('device.bootTime', '0ms'),
    setting('device.connectTime', '0ms'),
    setting('watch.wakeOn', 'any-change'),
    setting('watch.heartbeatInterval', 'off'),
  ]);
  if (!read.ok) return null;
  const watchFile = read.value;
  const { recheckIntervalMs } = watchFile.watch;
  const isShort = watchFile.judge.leaveOpenAfterMs < recheckIntervalMs / 2;
  return isShort ? { ...one, text, watchFile, program: programOf(watchFile) } : null;
}

interface Seen {
  searched: number;
  sure: number;
  witnesses: number;
}

function hold(one: Case, seen: Seen): void {
  const searches = searchesOf(one);
  const { atRest, anyState, quickest } = searches;
  const claims = claimsOf(questionIn(one), {
    atRest: atRest?.result ?? null,
    anyState: anyState?.result ?? null,
    quickest: quickest?.result ?? null,
  });
  if (atRest !== null && anyState !== null && quickest !== null) seen.searched += 1;
  if (claims.sureFromMs.atRest !== undefined) seen.sure += 1;
  const facts = `case ${String(one.index)}:\n${one.text}`;
  expect(provedLaw(one, 2, claims), facts).toEqual([]);
  if (one.index % 4 === 0) {
    expect(wrongWitnesses(one, searches), facts).toEqual([]);
    seen.witnesses += 1;
  }
  expect(throughPlanner(one), facts).toEqual(one.watchFile);
}

describe('what is proved of random watch files', () => {
  it.each(Array.from({ length: cases / perTest }, (_, index) => index * perTest))(
    'is beaten by no run, shown by its witnesses, and kept by the planner, from case %i on',
    (from) => {
      const seen: Seen = { searched: 0, sure: 0, witnesses: 0 };
      for (let index = from; index < from + perTest; index += 1) hold(caseOf(index), seen);
      expect(seen.searched).toBeGreaterThan(perTest / 3);
      expect(seen.sure).toBeGreaterThan(perTest / 4);
      expect(seen.witnesses).toBeGreaterThan(10);
    },
  );

  it('is beaten by no row of brief openings where none can cause a false alarm', () => {
    let proved = 0;
    let tried = 0;
    for (let index = 0; proved < 10 && index < 400; index += 1) {
      const one = seeingEveryEdge(index);
      if (one === null) continue;
      const question = questionIn(one);
      const { aliasing, proof } = aliasingOf(question);
      if (aliasing !== null || proof === null) continue;
      proved += 1;
      const draw = drawFrom(one.seed, 'briefs', index);
      for (let run = 0; run < 20; run += 1, tried += 1) {
        expect(alertsOfBriefs(question, draw), `case ${String(index)}:\n${one.text}`).toBe(0);
      }
    }
    expect(tried).toBeGreaterThan(60);
  });
});
