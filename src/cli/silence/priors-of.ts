// The priors of `silence`: the usual ones, those of the watch file, and those typed.

import { hourMs } from '../../base/index.js';
import { longestTimelineMs } from '../../model/index.js';
import type { WatchFile } from '../../scenarios/index.js';
import { areDaily, type Priors, usualPriors } from '../../silence/index.js';
import { durationOf, perYearOf, shareOf } from '../arguments/values.js';
import { problem } from '../problem.js';

const option = '--prior';

/** Each prior by the name that is typed. */
export const priorKeys = {
  network: 'networkPerYear',
  contact: 'contactPerYear',
  firmware: 'firmwarePerYear',
  lost: 'lostShare',
  outages: 'outagesPerYear',
  spell: 'spellMs',
  unanswered: 'unansweredShare',
  unused: 'unusedShare',
  break: 'breakMs',
  life: 'lifeSpread',
} as const satisfies Readonly<Record<string, keyof Priors>>;

type PriorName = keyof typeof priorKeys;

const names = Object.keys(priorKeys);
const rates: readonly string[] = ['network', 'contact', 'firmware', 'outages'];
/** They say nothing of a network that the watch file calls always up. */
const ofOutages: readonly string[] = ['outages', 'spell'];

function isName(text: string): text is PriorName {
  return Object.hasOwn(priorKeys, text);
}

/** @throws InputProblem for text that is no prior. */
export function priorsOf(
  texts: readonly string[] | undefined,
  { delivery, environment, watch }: WatchFile,
): Priors {
  const { lostPpm } = delivery;
  const priors: { -readonly [Key in keyof Priors]: Priors[Key] } = {
    ...usualPriors,
    ...(lostPpm > 0 ? { lostShare: lostPpm / 1_000_000 } : {}),
  };
  for (const text of texts ?? []) {
    const end = text.indexOf('=');
    const name = text.slice(0, Math.max(0, end)).trim();
    const value = text.slice(end + 1).trim();
    if (!isName(name)) {
      throw problem('prior-unknown', option, {
        message: 'there is no prior with this name',
        found: text,
        expected: `${names.join(', ')}, each with a value, such as network=0.5/year, lost=1% or break=1w`,
      });
    }
    if (ofOutages.includes(name)) refuseWithoutOutages(text, { environment, watch });
    if (name === 'break' || name === 'spell') {
      priors[priorKeys[name]] = durationOf(option, value, {
        least: hourMs,
        most: longestTimelineMs,
        inDays: true,
      });
      continue;
    }
    priors[priorKeys[name]] = rates.includes(name)
      ? perYearOf(option, value, { least: 0, most: 1_000 })
      : shareOf(option, value, { least: 0, most: name === 'life' ? 1 : 0.99 });
  }
  return priors;
}

/** Only heartbeats meet outages, and only those that the watch file allows. */
function refuseWithoutOutages(
  found: string,
  { environment, watch }: Pick<WatchFile, 'environment' | 'watch'>,
): void {
  const message = 'there are no outages that a heartbeat could meet';
  if (!areDaily(environment.longestOutageMs)) {
    throw problem('prior-without-outages', option, {
      message,
      found,
      hint: 'write how long an outage may last in the watch file, less than a day, such as environment: { longestOutage: 1h }',
    });
  }
  if (watch.heartbeatIntervalMs === null) {
    throw problem('prior-without-outages', option, {
      message,
      found,
      hint: 'the watch file has no heartbeatInterval under watch: leave this prior out',
    });
  }
}
