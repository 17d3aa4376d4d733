// When and where a scenario starts.
import { bad, type Decoded, good, type Problem } from '../text/problem.js';
import { readInstant } from '../time/instant.js';
import { readZone } from '../time/zone.js';
import type { TimelineStart } from '../types.js';

/** Which of the two keys is wrong. */
export type StartProblem = Problem & { readonly key: 'start' | 'zone' };

/**
 * Reads the start and the zone of a scenario together: an offset and a zone have to agree.
 * @param zone what the key `zone` says, if it is there.
 */
export function readStart(
  text: string,
  zone: string | undefined,
):
  | { readonly ok: true; readonly value: TimelineStart }
  | { readonly ok: false; readonly problem: StartProblem } {
  const from = (key: 'start' | 'zone', decoded: { readonly problem: Problem }) =>
    ({ ok: false, problem: { ...decoded.problem, key } }) as const;
  const named = zone === undefined ? null : readZone(zone);
  if (named?.ok === false) return from('zone', named);
  const instant = readWithZone(text, named === null ? null : named.value.name);
  if (!instant.ok) return from('start', instant);
  if (named !== null && instant.value.timeZone !== named.value.name) {
    return from('zone', {
      problem: {
        code: 'zone-twice',
        says: `contradicts the zone of start, ${instant.value.timeZone}`,
        hint: 'delete one of the two',
      },
    });
  }
  return { ok: true, value: instant.value };
}

function readWithZone(text: string, zone: string | null): Decoded<TimelineStart> {
  const bare = readInstant(text, zone);
  if (zone === null || text.includes('[') || !bare.ok || bare.value.timeZone === zone) return bare;
  // An offset beside a zone key is checked against it, as it would be against a zone in brackets.
  const both = readInstant(`${text.trim()}[${zone}]`, null);
  if (both.ok) return good(both.value);
  const { code, says, hint } = both.problem;
  return bad(code, says, { found: text, hint });
}
