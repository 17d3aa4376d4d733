// A door left open for ever that is never reported: how that happens, and what happens from then on.
import { dayMs, durationText, minuteMs } from '../../base/index.js';
import type { Scene } from '../../timeline/index.js';
import type { Unreportable, Witness } from '../answer.js';
import type { Searched } from '../bounds.js';
import { replay } from '../evidence/replay.js';
import { sceneOf, simplified, worldOf } from '../evidence/scene.js';
import type { BoundsQuestion } from '../question.js';
import { runWorld } from '../run-world.js';
import type { Moment } from '../track.js';
import { type Run, runIfAny } from '../witness.js';

export interface UnreportableAnswer {
  readonly unreportable: Unreportable;
  /** Null: its run could not be shown. */
  readonly witness: Witness | null;
}

/** Null: every door left open is reported in the end. */
export function unreportableOf(
  question: BoundsQuestion,
  { model, result }: Searched,
): UnreportableAnswer | null {
  const { never } = result;
  if (never === null) return null;
  const run = runIfAny(model, never, 'greatest');
  const holds = question.program.table.phases[never.track.state] === 'holding';
  const sentence = holds
    ? 'after an alert the device stays awake and does nothing until it is reset, so a door opened in that time is never reported'
    : 'this watch can reach a state from which a door left open for ever is never reported';
  if (run === null) {
    const stem = ['the device reaches that state'];
    return { unreportable: { sentence, stem, repeats: repeatsOf(holds) }, witness: null };
  }
  const unreportable: Unreportable = {
    sentence,
    stem: stemOf(run),
    repeats: repeatsOf(holds),
  };
  return { unreportable, witness: witnessOf(question, { model, result }, { run, sentence }) };
}

function repeatsOf(holds: boolean): readonly string[] {
  return holds
    ? ['the device stays awake, makes no check and waits for a reset']
    : ['check after check reads open, and no alert is delivered'];
}

const eventWords: Readonly<Partial<Record<Moment, string>>> = {
  'power-on': 'the device gets its power',
  reset: 'a reset wakes the device',
  'power lost': 'the power is lost',
  'memory lost': 'retained memory is cleared',
  contact: 'the contact wakes the device',
  'reads open': 'a check reads open',
  'reads shut': 'a check reads shut',
  'reads shut wrongly': 'a check reads shut although the door is open',
  'send begins': 'a send begins',
  delivered: 'it is delivered',
  failed: 'it fails',
};

/** The events, with their times since the first power-on. */
function stemOf({ moments, opensAtMs }: Run): readonly string[] {
  const events = moments.flatMap(({ atMs, moment }) => {
    const text = eventWords[moment];
    const isEarlier = moment === 'reads open' && atMs < opensAtMs;
    return text === undefined
      ? []
      : [{ atMs, text: isEarlier ? `${text}, in an earlier opening` : text }];
  });
  const after = events.findIndex(({ atMs }) => atMs > opensAtMs);
  const opening = { atMs: opensAtMs, text: 'the door is opened, and left open' };
  const all = events.toSpliced(after < 0 ? events.length : after, 0, opening);
  return all.map(({ atMs, text }) => `at ${durationText(atMs)} ${text}`);
}

/** Left open for a day, or as long as the run is, without a report. */
function witnessOf(
  question: BoundsQuestion,
  { model }: Searched,
  on: { readonly run: Run; readonly sentence: string },
): Witness | null {
  const { run, sentence } = on;
  const opensAtMs = Math.ceil(run.opensAtMs / minuteMs) * minuteMs;
  const world = runWorld(model, run, {
    lastsMs: Number.POSITIVE_INFINITY,
    ranges: question.timing,
    powerOnAtMs: opensAtMs - run.opensAtMs,
  });
  const brief = sceneOf(world);
  const scene: Scene = { ...brief, lengthMs: Math.max(brief.lengthMs, dayMs) };
  const shows = (candidate: Scene): boolean =>
    replay(question, worldOf(candidate)).deliveredAfterMs === null;
  if (!shows(scene)) return null;
  const experiment = worldOf(simplified(question, scene, shows));
  const { opening, decidedAfterMs, deliveredAfterMs } = replay(question, experiment);
  return {
    bound: 'unreportable',
    sentence,
    experiment,
    opening,
    decidedAfterMs,
    deliveredAfterMs,
  };
}
