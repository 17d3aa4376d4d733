// The words of each clause of a reason, and how clauses make a sentence. Durations are rounded for reading.
import { counted, numberText, roundedDurationText, unreachable } from '../../base/index.js';
import type { AttemptCounts, Circumstance, Clause, ClauseOf, Fates } from './clause.js';

/** The most openings whose lengths are written out. */
const mostLengths = 5;

/** A sentence without a capital and a full stop. */
export function sentenceOf(clauses: readonly Clause[]): string {
  return clauses.reduce(
    (before, clause) =>
      before === ''
        ? clauseText(clause)
        : before + (joins[clause.kind] ?? '; ') + clauseText(clause),
    '',
  );
}

/** What joins a clause to the one before it; between others it is a semicolon. */
const joins: Readonly<Partial<Record<Clause['kind'], string>>> = {
  shutTooSoon: ', ',
  noneInTime: ', ',
  offUntilShut: ', ',
  readShutBefore: ', ',
  endedFirst: ', ',
  counted: ' ',
  readOpen: ' ',
  decided: ': ',
};

function clauseText(clause: Clause): string {
  switch (clause.kind) {
    case 'between':
      return betweenText(clause);
    case 'offThroughout':
      return 'the device had no power while it was open';
    case 'unpowered':
      return unpoweredText(clause);
    case 'heldThroughout':
      return `the device had been waiting for a reset since an alert delivered ${roundedDurationText(clause.deliveredBeforeMs)} before it opened`;
    case 'heldFromDelivery':
      return heldFromDeliveryText(clause);
    case 'allShut':
      return `${counted(clause.checks, 'check')} came while it was open, but the contact read shut${clause.checks === 1 ? '' : ' each time'}`;
    case 'quiet':
      return quietText(clause);
    case 'unsent':
      return `${counted(clause.checks, 'check')} found the contact open often enough for an alert, but an alert decided ${roundedDurationText(clause.decidedBeforeMs)} before it opened was still waiting to be delivered`;
    case 'opened':
      return clause.afterMs === null
        ? 'opened before the first check'
        : `opened ${roundedDurationText(clause.afterMs)} after a check`;
    case 'shutTooSoon':
      return `shut ${roundedDurationText(clause.byMs)} before the check that would have alerted${offText(clause.offMs, 'in between')}`;
    case 'noneInTime':
      return `and no check that would have alerted came before the end of the timeline${offText(clause.offMs, 'until then')}`;
    case 'offUntilShut':
      return `and the device had no power for the last ${roundedDurationText(clause.ms)} that it was open`;
    case 'readShutBefore':
      return 'and the contact read shut before the door shut';
    case 'endedFirst':
      return 'and the timeline ended before an alert was decided';
    case 'counted':
      return `(${numberText(clause.most)} of ${numberText(clause.enough)} required open checks)`;
    case 'readOpen': {
      const text = `${counted(clause.checks, 'check')} read open, and the logic decided no alert`;
      return clause.aside ? `(${text})` : text;
    }
    case 'undelivered':
      return undeliveredText(clause);
    case 'late':
      return `reported ${roundedDurationText(clause.byMs, 'at most')} too late`;
    case 'decided':
      return decidedText(clause);
    case 'earlier':
      return `${counted(lostOf(clause.fates), 'earlier alert')} of this opening ${lostOf(clause.fates) === 1 ? 'was' : 'were'} not delivered (${fatesText(clause.fates)})`;
    case 'meanwhile':
      return meanwhileText(clause);
    case 'openChecks':
      return openChecksText(clause);
    case 'ghosts':
      return clause.all
        ? `the contact read open at ${counted(clause.checks, 'check')} while the door was shut`
        : `${numberText(clause.checks)} more read open while the door was shut`;
    case 'decidedShut':
      return 'the alert was decided while the door was shut';
    case 'ownRule':
      return clause.opening === null
        ? 'the logic decided it at a check that read open while the door was shut'
        : `the logic decided it at a check that read open during ${clause.opening.brief ? 'a brief' : 'an'} opening of ${roundedDurationText(clause.opening.ms, 'at least')}`;
    case 'noOpenCheck':
      return 'the alert was decided at a check that read shut';
    default:
      return unreachable(clause);
  }
}

function unpoweredText({ beforeMs, afterMs, lastedMs, offMs, all }: ClauseOf<'unpowered'>): string {
  const when =
    beforeMs === null
      ? afterMs === null || afterMs === 0
        ? 'as it opened'
        : `${roundedDurationText(afterMs)} after it opened`
      : `${roundedDurationText(beforeMs)} before it opened`;
  const off = all
    ? 'the device was off all the time it was open'
    : `the device was off for ${roundedDurationText(offMs)} of it`;
  return `the charge had lasted ${roundedDurationText(lastedMs)} and was used up ${when}, so ${off}`;
}

function heldFromDeliveryText(clause: ClauseOf<'heldFromDelivery'>): string {
  const { decidedBeforeMs, deliveredAfterMs, heldMs, toTheEnd, named } = clause;
  const alert = named
    ? 'that alert'
    : `an alert decided ${roundedDurationText(decidedBeforeMs)} before it opened`;
  return `${alert} was delivered ${roundedDurationText(deliveredAfterMs)} after it opened, and the device then waited for a reset for ${toTheEnd ? 'the other ' : ''}${roundedDurationText(heldMs)}`;
}

function betweenText({ afterMs, beforeMs, offMs }: ClauseOf<'between'>): string {
  const off = offText(offMs, beforeMs === null ? 'until then' : 'in between');
  if (afterMs === null) {
    return beforeMs === null
      ? 'the device made no check in this timeline'
      : `shut ${roundedDurationText(beforeMs)} before the first check${off}`;
  }
  const opened = `opened ${roundedDurationText(afterMs)} after a check`;
  return beforeMs === null
    ? `${opened}, and no other came before the end of the timeline${off}`
    : `${opened}, shut ${roundedDurationText(beforeMs)} before the next one${off}`;
}

/** A part of the time from the end of an opening to a check, or to the end of the timeline. */
function offText(ms: number, when: 'in between' | 'until then'): string {
  return ms === 0 ? '' : `, with no power for ${roundedDurationText(ms)} ${when}`;
}

function quietText({ checks, deliveredBeforeMs, unseenShut }: ClauseOf<'quiet'>): string {
  const found = `${counted(checks, 'check')} found the contact open often enough for an alert, but`;
  if (deliveredBeforeMs === null) return `${found} no alert was decided`;
  const before = `${roundedDurationText(deliveredBeforeMs)} before ${checks === 1 ? 'that' : 'the first of them'}`;
  const unseen =
    unseenShut === undefined
      ? ''
      : `, and the device had not seen the door shut ${unseenShut === 1 ? '' : `at ${numberText(unseenShut)} checks in a row `}in between`;
  return `${found} the cooldown of an alert delivered ${before} held back a new alert${unseen}`;
}

function undeliveredText({ fates, attempts }: ClauseOf<'undelivered'>): string {
  const { forgotten, emptied, cleared, dropped, unsent } = fates;
  const tried = attemptsText(attempts);
  if (lostOf(fates) + unsent > 1) {
    return `${numberText(lostOf(fates) + unsent)} alerts were decided, but none was delivered: ${fatesText(fates)} (${tried})`;
  }
  if (forgotten > 0) {
    return `an alert was decided, but a power loss cleared it from memory before it was delivered (${tried})`;
  }
  if (emptied > 0) {
    return `an alert was decided, but the charge ended before it was delivered (${tried})`;
  }
  if (cleared > 0) {
    return `an alert was decided, but a reset cleared it from memory before it was delivered (${tried})`;
  }
  if (dropped > 0) {
    return `an alert was decided but not delivered (${tried}), and dropped at a check that read shut`;
  }
  if (attempts.cutByEnd === 0) {
    return `an alert was decided but not delivered by the end of the timeline (${tried})`;
  }
  const before = attemptsText({ ...attempts, cutByEnd: 0 });
  const failing = before === '' ? '' : ` (before that ${before})`;
  return `the end of the timeline cut the alert off while it was being sent${failing}`;
}

/** Alerts that can no longer be delivered. */
function lostOf({ forgotten, emptied, cleared, dropped }: Fates): number {
  return forgotten + emptied + cleared + dropped;
}

function fatesText({ forgotten, emptied, cleared, dropped, unsent }: Fates): string {
  return listText([
    [forgotten, `${numberText(forgotten)} lost in a power loss`],
    [emptied, `${numberText(emptied)} lost as the charge ended`],
    [cleared, `${numberText(cleared)} cleared by a reset`],
    [dropped, `${numberText(dropped)} dropped at a check that read shut`],
    [unsent, `${numberText(unsent)} still unsent at the end of the timeline`],
  ]);
}

function attemptsText({
  failed,
  cutByReset,
  cutByPower,
  cutByCharge,
  cutByEnd,
}: AttemptCounts): string {
  return listText([
    [failed, `${counted(failed, 'attempt')} failed while the network was down`],
    [cutByReset, `${counted(cutByReset, 'attempt')} cut off by a reset`],
    [cutByPower, `${counted(cutByPower, 'attempt')} cut off by a power loss`],
    [cutByCharge, `${counted(cutByCharge, 'attempt')} cut off as the charge ended`],
    [cutByEnd, `${counted(cutByEnd, 'attempt')} cut off by the end of the timeline`],
  ]);
}

function listText(parts: readonly (readonly [count: number, text: string])[]): string {
  return parts
    .filter(([count]) => count > 0)
    .map(([, text]) => text)
    .join(', ');
}

function decidedText({ afterMs, sentForMs, attempts }: ClauseOf<'decided'>): string {
  const tried = attemptsText(attempts);
  const failing = tried === '' ? '' : ` (before that ${tried})`;
  return `the alert was decided ${roundedDurationText(afterMs)} after it opened and delivered ${roundedDurationText(sentForMs)} later${failing}`;
}

function meanwhileText({ until, what }: ClauseOf<'meanwhile'>): string {
  const texts = what.map((one) =>
    one.kind === 'quiet' || one.kind === 'unsent' ? clauseText(one) : circumstanceText(one),
  );
  return `${until === 'shut' ? 'while it was open' : 'before the decision'}: ${texts.join(', ')}`;
}

function circumstanceText(what: Circumstance): string {
  switch (what.kind) {
    case 'off':
      return `the device had no power for ${roundedDurationText(what.ms)}`;
    case 'held':
      return `the device was waiting for a reset for ${roundedDurationText(what.ms)}`;
    case 'sending':
      return `the device was sending for ${roundedDurationText(what.ms)}`;
    case 'wakesCut':
      return what.wakes === 1
        ? 'a reset cut off a wake before its check'
        : `resets cut off ${numberText(what.wakes)} wakes before their checks`;
    case 'readShut':
      return `the contact read shut at ${numberText(what.checks)} of ${counted(what.of, 'check')}`;
    case 'countLost':
      return `${counted(what.times, 'power loss', 'power losses')} lost ${counted(what.checks, 'counted open check')}`;
    case 'countEmptied':
      return `the ${what.times === 1 ? 'end of the charge' : `ends of ${numberText(what.times)} charges`} lost ${counted(what.checks, 'counted open check')}`;
    case 'countCleared':
      return `${counted(what.times, 'reset')} cleared ${counted(what.checks, 'counted open check')}`;
    default:
      return unreachable(what);
  }
}

function openChecksText({ checks, openings }: ClauseOf<'openChecks'>): string {
  const fell = `${counted(checks, 'check')} read open during`;
  const [first] = openings;
  if (openings.length === 1 && first !== undefined) {
    return `${fell} one ${first.brief ? 'brief ' : ''}opening of ${roundedDurationText(first.ms, 'at least')}`;
  }
  const lengths = openings
    .slice(0, mostLengths)
    .map(({ ms }) => roundedDurationText(ms, 'at least'));
  if (openings.length > mostLengths) lengths.push('…');
  return `${fell} ${numberText(openings.length)} separate openings (${lengths.join(', ')})`;
}
