// Reads a reason back: each clause of a sentence as a claim with its numbers. It knows the words only, not how they came about.

/** `kind` and its numbers, as in `between after=1200 before=4000`. */
export type Claim = string;

const unitMs: Readonly<Record<string, number>> = {
  ms: 1,
  s: 1_000,
  min: 60_000,
  h: 3_600_000,
  d: 86_400_000,
};

/** A duration, `1 h 30 min 0.4 s`, in milliseconds. */
function msOf(text: string): number {
  const parts = text.split(' ');
  let ms = 0;
  for (let at = 0; at < parts.length; at += 2) {
    const unit = unitMs[parts[at + 1] ?? ''];
    if (unit === undefined) throw new Error(`no duration: ${text}`);
    ms += Number(parts[at]) * unit;
  }
  return Math.round(ms);
}

/** A count; a word for one. */
function countOf(text: string): number {
  return text === 'a' || text === 'an' ? 1 : Number(text.replaceAll(',', ''));
}

const D = String.raw`(\d+(?:\.\d+)? (?:ms|s|min|h|d)(?: \d+(?:\.\d+)? (?:s|min|h))*)`;
const N = String.raw`(\d[\d,]*|an?)`;
const checks = `${N} checks?`;
const attempts = String.raw`\(((?:\d[\d,]* attempts? [a-z ]+(?:, )?)+)\)`;
const fates = String.raw`((?:\d[\d,]* (?:lost|cleared|dropped|still)[a-z ]+(?:, )?)+)`;

type Found = readonly string[];

interface Pattern {
  readonly words: RegExp;
  readonly claim: (found: Found) => Claim;
}

function pattern(words: string, claim: (found: Found) => Claim): Pattern {
  return { words: new RegExp(words, 'y'), claim };
}

/** A claim with durations and counts, `d` and `n`, in the order of the groups. */
function plain(words: string, kind: string, names: readonly string[] = []): Pattern {
  return pattern(words, (found) =>
    [
      kind,
      ...names.map((name, index) => {
        const text = found[index] ?? '';
        const value = / (?:ms|s|min|h|d)(?: |$)/.test(text) ? msOf(text) : countOf(text);
        return `${name}=${String(value)}`;
      }),
    ].join(' '),
  );
}

function attemptCounts(text: string): string {
  const count = (ending: string): number => {
    const found = new RegExp(`(\\d[\\d,]*) attempts? ${ending}(?:, |$)`).exec(text);
    return found === null ? 0 : countOf(found[1] ?? '');
  };
  const counts = {
    failed: count('failed while the network was down'),
    reset: count('cut off by a reset'),
    power: count('cut off by a power loss'),
    end: count('cut off by the end of the timeline'),
  };
  return Object.entries(counts)
    .map(([name, value]) => `${name}=${String(value)}`)
    .join(' ');
}

function fateCounts(text: string): string {
  const count = (ending: string): number =>
    countOf(new RegExp(`(\\d[\\d,]*) ${ending}`).exec(text)?.[1] ?? '0');
  return `forgotten=${String(count('lost in a power loss'))} cleared=${String(count('cleared by a reset'))} dropped=${String(count('dropped at a check that read shut'))} unsent=${String(count('still unsent at the end of the timeline'))}`;
}

/** Where one begins with another, the longer comes first. */
const patterns: readonly Pattern[] = [
  plain(`opened ${D} after a check, shut ${D} before the next one`, 'between', ['after', 'before']),
  plain(`opened ${D} after a check, and no other came before the end of the timeline`, 'between', [
    'after',
  ]),
  plain(`shut ${D} before the first check`, 'between', ['before']),
  plain('the device made no check in this timeline', 'between'),
  plain('the device had no power while it was open', 'offThroughout'),
  plain(
    `the device had been waiting for a reset since an alert delivered ${D} before it opened`,
    'heldThroughout',
    ['delivered'],
  ),
  pattern(
    `(?:an alert decided ${D} before it opened|that alert) was delivered ${D} after it opened, and the device then waited for a reset for (the other )?${D}`,
    ([decided, delivered = '', rest, held = '']) =>
      [
        'heldFromDelivery',
        ...(decided === undefined ? [] : [`decided=${String(msOf(decided))}`]),
        `delivered=${String(msOf(delivered))} for=${String(msOf(held))} rest=${String(rest !== undefined)}`,
      ].join(' '),
  ),
  plain(`${N} checks came while it was open, but the contact read shut each time`, 'allShut', [
    'checks',
  ]),
  plain(`${N} check came while it was open, but the contact read shut`, 'allShut', ['checks']),
  plain(
    `${checks} found the contact open often enough for an alert, but the cooldown of an alert delivered ${D} before (?:that|the first of them) held back a new alert`,
    'quiet',
    ['checks', 'delivered'],
  ),
  pattern(
    String.raw`, and the device had not seen the door shut (?:at (\d+) checks in a row )?in between`,
    ([inARow = '1']) => `unseenShut checks=${inARow}`,
  ),
  plain(
    `${checks} found the contact open often enough for an alert, but an alert decided ${D} before it opened was still waiting to be delivered`,
    'unsent',
    ['checks', 'decided'],
  ),
  plain('opened before the first check', 'opened'),
  plain(`opened ${D} after a check`, 'opened', ['after']),
  plain(`, shut ${D} before the check that would have alerted`, 'shutTooSoon', ['by']),
  plain(', and no check that would have alerted came before the end of the timeline', 'noneInTime'),
  plain(', and the contact read shut before the door shut', 'readShutBefore'),
  plain(`, and the device had no power for the last ${D} that it was open`, 'offUntilShut', [
    'for',
  ]),
  plain(`, with no power for ${D} in between`, 'offBetween', ['for']),
  plain(`, with no power for ${D} until then`, 'offUntilEnd', ['for']),
  plain(', and the timeline ended before an alert was decided', 'endedFirst'),
  plain(String.raw` \(${N} of ${N} required open checks\)`, 'counted', ['most', 'enough']),
  plain(String.raw` \(${checks} read open, and the logic decided no alert\)`, 'readOpen', [
    'checks',
  ]),
  plain(`${checks} read open, and the logic decided no alert`, 'readOpen', ['checks']),
  pattern(
    `${N} alerts were decided, but none was delivered: ${fates} ${attempts}`,
    ([count = '', what = '', tried = '']) =>
      `undelivered alerts=${String(countOf(count))} ${fateCounts(what)} ${attemptCounts(tried)}`,
  ),
  pattern(
    `an alert was decided, but a power loss cleared it from memory before it was delivered ${attempts}`,
    ([tried = '']) =>
      `undelivered alerts=1 forgotten=1 cleared=0 dropped=0 unsent=0 ${attemptCounts(tried)}`,
  ),
  pattern(
    `an alert was decided, but a reset cleared it from memory before it was delivered ${attempts}`,
    ([tried = '']) =>
      `undelivered alerts=1 forgotten=0 cleared=1 dropped=0 unsent=0 ${attemptCounts(tried)}`,
  ),
  pattern(
    `an alert was decided but not delivered ${attempts}, and dropped at a check that read shut`,
    ([tried = '']) =>
      `undelivered alerts=1 forgotten=0 cleared=0 dropped=1 unsent=0 ${attemptCounts(tried)}`,
  ),
  pattern(
    `an alert was decided but not delivered by the end of the timeline ${attempts}`,
    ([tried = '']) =>
      `undelivered alerts=1 forgotten=0 cleared=0 dropped=0 unsent=1 ${attemptCounts(tried)}`,
  ),
  pattern(
    String.raw`the end of the timeline cut the alert off while it was being sent(?: \(before that ([^()]*)\))?`,
    ([before = '']) => {
      const tried = `${before === '' ? '' : `${before}, `}1 attempt cut off by the end of the timeline`;
      return `undelivered alerts=1 forgotten=0 cleared=0 dropped=0 unsent=1 ${attemptCounts(tried)}`;
    },
  ),
  plain(`reported ${D} too late`, 'late', ['by']),
  pattern(
    String.raw`: the alert was decided ${D} after it opened and delivered ${D} later(?: \(before that ([^()]*)\))?`,
    ([after = '', sent = '', tried = '']) =>
      `decided after=${String(msOf(after))} sent=${String(msOf(sent))} ${attemptCounts(tried)}`,
  ),
  pattern(
    String.raw`${N} earlier alerts? of this opening (?:was|were) not delivered \(${fates}\)`,
    ([count = '', what = '']) => `earlier alerts=${String(countOf(count))} ${fateCounts(what)}`,
  ),
  plain('while it was open: ', 'whileOpen'),
  plain('before the decision: ', 'beforeDecision'),
  plain(`the device had no power for ${D}`, 'off', ['for']),
  plain(`the device was waiting for a reset for ${D}`, 'held', ['for']),
  plain(`the device was sending for ${D}`, 'sending', ['for']),
  plain(`resets? cut off ${N} wakes? before their checks`, 'wakesCut', ['wakes']),
  plain(`a reset cut off ${N} wake before its check`, 'wakesCut', ['wakes']),
  plain(`the contact read shut at ${N} of ${checks}`, 'readShut', ['checks', 'of']),
  plain(`${N} power loss(?:es)? lost ${N} counted open checks?`, 'countLost', ['times', 'checks']),
  plain(`${N} resets? cleared ${N} counted open checks?`, 'countCleared', ['times', 'checks']),
  pattern(
    String.raw`${N} checks? read open during one (brief )?opening of ${D}`,
    ([count = '', brief, length = '']) =>
      `openChecks checks=${String(countOf(count))} lengths=${String(msOf(length))} brief=${String(brief !== undefined)}`,
  ),
  pattern(
    String.raw`${N} checks? read open during ${N} separate openings \(([^()]*)\)`,
    ([count = '', openings = '', lengths = '']) => {
      const each = lengths.split(', ').map((text) => (text === '…' ? text : msOf(text)));
      return `openChecks checks=${String(countOf(count))} openings=${String(countOf(openings))} lengths=${each.join(',')}`;
    },
  ),
  plain(`the contact read open at ${checks} while the door was shut`, 'allGhosts', ['checks']),
  plain(`${N} more read open while the door was shut`, 'moreGhosts', ['checks']),
  plain('the alert was decided while the door was shut', 'decidedShut'),
];

/** All kinds of claims that a sentence may make. */
export const claimKinds: readonly string[] = [
  ...new Set([
    ...[
      'between',
      'offThroughout',
      'heldThroughout',
      'heldFromDelivery',
      'readOpen',
      'allShut',
      'quiet',
      'unseenShut',
      'unsent',
      'opened',
    ],
    ...['offUntilShut', 'offBetween', 'offUntilEnd'],
    ...['shutTooSoon', 'noneInTime', 'readShutBefore', 'endedFirst', 'counted', 'undelivered'],
    ...['late', 'decided', 'earlier', 'whileOpen', 'beforeDecision', 'off', 'held', 'sending'],
    ...[
      'wakesCut',
      'readShut',
      'countLost',
      'countCleared',
      'openChecks',
      'allGhosts',
      'moreGhosts',
    ],
    'decidedShut',
  ]),
];

/** The claims of a sentence, in its order. @throws when a part of it is none. */
export function claimsOf(sentence: string): readonly Claim[] {
  const claims: Claim[] = [];
  let at = 0;
  while (at < sentence.length) {
    const start = at;
    for (const { words, claim } of patterns) {
      words.lastIndex = at;
      const found = words.exec(sentence);
      if (found === null || found[0] === '') continue;
      claims.push(claim(found.slice(1)));
      at += found[0].length;
      break;
    }
    if (at === start) throw new Error(`not a claim: ${sentence.slice(at)}`);
    const between = /; |, (?!shut |and |with )/y;
    between.lastIndex = at;
    at += between.exec(sentence)?.[0].length ?? 0;
  }
  return claims;
}
