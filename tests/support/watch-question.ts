// Questions for hunts and bounds from the text of a watch file.
import {
  type AdversityKind,
  calm,
  type HuntQuestion,
  namedProperties,
  withUsual,
} from '../../src/hunt/index.js';
import { parseWatchFile, type WatchFile } from '../../src/scenarios/index.js';
import { compileWatch } from '../../src/sim/index.js';

const halfDayMs = 43_200_000;

/** @throws Error when the text is no watch file. */
export function watchFileOf(text: string): WatchFile {
  const parsed = parseWatchFile(text, 'watch.yaml');
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.errors));
  return parsed.value;
}

export function huntQuestion(
  text: string,
  {
    properties = ['reported'],
    with: kinds = [],
    lengthMs = halfDayMs,
  }: {
    readonly properties?: readonly string[];
    readonly with?: readonly AdversityKind[];
    readonly lengthMs?: number;
  } = {},
): HuntQuestion {
  const { watch, timing, judge, contact } = watchFileOf(text);
  return {
    watch,
    program: compileWatch(watch),
    timing,
    judge,
    contact,
    adversity: withUsual(calm, kinds),
    lengthMs,
    properties: namedProperties
      .map(({ property }) => property)
      .filter(({ name }) => properties.includes(name)),
  };
}

/** An alert cannot come too late for a leave-open of 3 min: 2 min 20.8 s are enough for it, whatever went before. */
export const sureWatch = `watch: { checkInterval: 2m, recheckInterval: 20s, escalationThreshold: 2, alertCooldown: 0s }
judge: { leaveOpenAfter: 3m }
`;

/** Without a recheck interval an opening of 3 min may be seen open once and then shut. */
export const holeyWatch = `watch: { checkInterval: 3m, escalationThreshold: 2 }
judge: { leaveOpenAfter: 3m }
`;
