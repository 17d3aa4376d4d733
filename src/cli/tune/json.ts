// What `tune --json` prints: milliseconds, counts a year, and null where there is no bound.
import type { Rate } from '../../estimate/index.js';
import type { Proved, Shortfall, Trial } from '../../tune/index.js';
import { jsonText } from '../layout/json-text.js';
import { alternativesOf } from './alternatives.js';
import type { TuneView } from './view.js';

const tuneSchema = 'dozewatch/tune/1';

export function tuneJson({
  answer,
  requirements,
  head: { tried: _, logDays: __, gaps: ___, lasts: ____, ...head },
  anyState,
  yoursFromAnyState,
  beyondRates,
}: TuneView): string {
  const { front, recommended, relaxations, outOfReach, nearest, meeting, present, prefer } = answer;
  const written = {
    schema: tuneSchema,
    ...head,
    asked: requirements,
    meeting,
    front: front.map(({ trial, alike }) => ({ ...trialJson(trial), alike })),
    prefer,
    present: present === null ? null : trialJson(present),
    recommended: recommended === null ? null : trialJson(recommended),
    recommendedNeeds:
      recommended === null || recommended.settings.wakeOn === 'timer' ? [] : ['wake-capable-pin'],
    recommendedFromAnyState: anyStateJson(anyState),
    presentFromAnyState: anyStateJson(yoursFromAnyState),
    repeatsEveryMs: {
      present: present === null ? null : beyondRates.repeatsEveryMs(present.settings),
      recommended: recommended === null ? null : beyondRates.repeatsEveryMs(recommended.settings),
    },
    alternatives: alternativesOf(answer).map(({ prefer: other, trial }) => ({
      prefer: other,
      settings: trial.settings,
    })),
    relax: relaxations.map(({ trial, ...shortfall }) => ({
      ...shortfallJson(shortfall),
      settings: trial.settings,
    })),
    outOfReach: outOfReach.map(shortfallJson),
    nearest:
      nearest === null
        ? null
        : {
            settings: nearest.trial.settings,
            shortfalls: nearest.shortfalls.map(shortfallJson),
          },
  };
  return jsonText(written);
}

function trialJson({ settings, proved, years }: Trial) {
  const { falseAlarms, missed, late, repeats } = years.rates;
  return {
    settings,
    alwaysReportedFromMs: proved.sureFromMs,
    worstDelayMs: proved.worstDelayMs,
    neverAlarmedUpToMs: proved.quietUpToMs,
    atRest:
      proved.atRest === undefined
        ? null
        : {
            alwaysReportedFromMs: proved.atRest.sureFromMs,
            worstDelayMs: proved.atRest.worstDelayMs,
          },
    lifeMs: years.lifeMs,
    falseAlarms: rateJson(falseAlarms),
    missed: rateJson(missed),
    late: rateJson(late),
    repeats: rateJson(repeats),
  };
}

function rateJson({ count, perYear, low, high, kind }: Rate) {
  return { count, perYear, low, high, kind };
}

function shortfallJson({ name, asked, got }: Shortfall) {
  return { requirement: name, asked, got };
}

function anyStateJson(proved: Proved | null) {
  if (proved === null) return null;
  const { isKnown, sureFromMs, worstDelayMs } = proved;
  return { known: isKnown, alwaysReportedFromMs: sureFromMs, worstDelayMs };
}
