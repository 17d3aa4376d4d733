// The words of each clause of a reason, and how clauses make a sentence.
import { counted, durationText, numberText, unreachable } from '../../base/index.js';
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
  readShutBefore: ', ',
  endedFirst: ', ',
  counted: ' ',
  decided: ': ',
};

function clauseText(clause: Clause): string {
  switch (clause.kind) {
    case 'between':
      return betweenText(clause);
    case 'offThroughout':
      return 'the device had no power while it was open';
    case 'heldThroughout':
      return `the device was holding for a reset since an alert delivered ${durationText(clause.deliveredBeforeMs)} before it opened`;
    case 'allShut':
      return `${counted(clause.checks, 'check')} fell into it, but the contact read shut${clause.checks === 1 ? '' : ' each time'}`;
    case 'quiet':
      return quietText(clause);
    case 'unsent':
      return `found open often enough at ${counted(clause.checks, 'check')}, but an alert decided ${durationText(clause.decidedBeforeMs)} before it opened was still unsent`;
    case 'opened':
      return clause.afterMs === null
        ? 'opened before the first check'
        : `opened ${durationText(clause.afterMs)} after a check`;
    case 'shutTooSoon':
      return `shut ${durationText(clause.byMs)} before the check that would have alerted`;
    case 'noneInTime':
      return 'and no check that would have alerted came before the end of the timeline';
    case 'readShutBefore':
      return 'and the contact read shut before the door was shut';
    case 'endedFirst':
      return 'and the timeline ended first';
    case 'counted':
      return `(${numberText(clause.most)} of ${numberText(clause.enough)} open checks counted)`;
    case 'undelivered':
      return undeliveredText(clause);
    case 'late':
      return `reported ${durationText(clause.byMs)} too late`;
    case 'decided':
      return decidedText(clause);
    case 'earlier':
      return `${counted(clause.fates.forgotten + clause.fates.dropped, 'earlier alert')} of this opening ${clause.fates.forgotten + clause.fates.dropped === 1 ? 'was' : 'were'} not delivered (${fatesText(clause.fates)})`;
    case 'meanwhile':
      return meanwhileText(clause);
    case 'openChecks':
      return openChecksText(clause);
    case 'ghosts':
      return clause.all
        ? `the contact read open at ${counted(clause.checks, 'check')} while the door was shut`
        : `${numberText(clause.checks)} more read open with the door shut`;
    case 'decidedShut':
      return 'it was decided with the door shut';
    case 'noOpenCheck':
      return 'it was decided at a check that read shut';
    default:
      return unreachable(clause);
  }
}

function betweenText({ afterMs, beforeMs }: ClauseOf<'between'>): string {
  if (afterMs === null) {
    return beforeMs === null
      ? 'the device made no check in this timeline'
      : `shut ${durationText(beforeMs)} before the first check`;
  }
  const opened = `opened ${durationText(afterMs)} after a check`;
  return beforeMs === null
    ? `${opened}, and no other came before the end of the timeline`
    : `${opened}, shut ${durationText(beforeMs)} before the next one`;
}

function quietText({ checks, deliveredBeforeMs }: ClauseOf<'quiet'>): string {
  const found = `found open often enough at ${counted(checks, 'check')}, but`;
  if (deliveredBeforeMs === null) return `${found} no alert was decided`;
  const before = `${durationText(deliveredBeforeMs)} before ${checks === 1 ? 'that' : 'the first of them'}`;
  return `${found} the cooldown of an alert delivered ${before} kept it quiet`;
}

function undeliveredText({ fates, attempts }: ClauseOf<'undelivered'>): string {
  const { forgotten, dropped, unsent } = fates;
  const tried = attemptsText(attempts);
  if (forgotten + dropped + unsent > 1) {
    return `${numberText(forgotten + dropped + unsent)} alerts were decided, but none was delivered: ${fatesText(fates)} (${tried})`;
  }
  if (forgotten > 0) {
    return `an alert was decided, but the power failed before it was delivered and retained memory was lost (${tried})`;
  }
  if (dropped > 0) {
    return `an alert was decided but not delivered (${tried}), and dropped at a check that read shut`;
  }
  return `an alert was decided but not delivered by the end of the timeline (${tried})`;
}

function fatesText({ forgotten, dropped, unsent }: Fates): string {
  return listText([
    [forgotten, `${numberText(forgotten)} lost with the power`],
    [dropped, `${numberText(dropped)} dropped at a check that read shut`],
    [unsent, `${numberText(unsent)} still unsent at the end of the timeline`],
  ]);
}

function attemptsText({ failed, cutByReset, cutByPower, cutByEnd }: AttemptCounts): string {
  return listText([
    [failed, `${counted(failed, 'attempt')} failed`],
    [cutByReset, `${counted(cutByReset, 'attempt')} cut off by a reset`],
    [cutByPower, `${counted(cutByPower, 'attempt')} cut off by a power loss`],
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
  return `the alert was decided ${durationText(afterMs)} after it opened and delivered ${durationText(sentForMs)} later${failing}`;
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
      return `the device had no power for ${durationText(what.ms)}`;
    case 'held':
      return `the device was holding for a reset for ${durationText(what.ms)}`;
    case 'sending':
      return `the device was sending for ${durationText(what.ms)}`;
    case 'wakesCut':
      return what.wakes === 1
        ? 'a reset cut off a wake before its check'
        : `resets cut off ${numberText(what.wakes)} wakes before their checks`;
    case 'readShut':
      return `the contact read shut at ${numberText(what.checks)} of ${counted(what.of, 'check')}`;
    case 'countLost':
      return `${counted(what.times, 'power loss', 'power losses')} lost ${counted(what.checks, 'counted open check')}`;
    default:
      return unreachable(what);
  }
}

function openChecksText({ checks, openings }: ClauseOf<'openChecks'>): string {
  const fell = `${counted(checks, 'open check')} fell into`;
  const [first] = openings;
  if (openings.length === 1 && first !== undefined) {
    return `${fell} one ${first.brief ? 'brief ' : ''}opening of ${durationText(first.ms)}`;
  }
  const lengths = openings.slice(0, mostLengths).map(({ ms }) => durationText(ms));
  if (openings.length > mostLengths) lengths.push('…');
  return `${fell} ${numberText(openings.length)} separate openings (${lengths.join(', ')})`;
}
