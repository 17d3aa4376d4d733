// The cause of a finding without the figures of its own case: findings of one cause can be counted together.
import { counted, numberText, unreachable } from '../../base/index.js';
import type { Circumstance, Clause, ClauseOf } from './clause.js';

const countWords = ['no', 'one', 'two', 'three', 'four', 'five', 'six'] as const;

/** A clause without a capital and a full stop, such as `two checks in two brief openings`. */
export function causeOf(clauses: readonly Clause[]): string {
  return clauses
    .flatMap((clause) => causesIn(clause))
    .filter((cause, index, all) => all.indexOf(cause) === index)
    .join('; ');
}

function causesIn(clause: Clause): readonly string[] {
  switch (clause.kind) {
    case 'between':
      return [`no check while it was open${clause.offMs > 0 ? ', and no power after it' : ''}`];
    case 'offThroughout':
      return ['no power while it was open'];
    case 'unpowered':
      return ['the charge was used up'];
    case 'heldThroughout':
    case 'heldFromDelivery':
      return ['the device was waiting for a reset'];
    case 'allShut':
      return ['the contact read shut at every check'];
    case 'quiet':
      return clause.deliveredBeforeMs === null
        ? ['no alert was decided']
        : ['the cooldown of an earlier alert'];
    case 'unsent':
      return ['an earlier alert was still waiting to be delivered'];
    case 'readOpen':
      return clause.aside ? [] : ['the logic decided no alert'];
    case 'shutTooSoon':
      return [
        `shut before the check that would have alerted${clause.offMs > 0 ? ', with no power in between' : ''}`,
      ];
    case 'offUntilShut':
      return ['no power at the end of it'];
    case 'noneInTime':
    case 'endedFirst':
      return ['the timeline ended before an alert was decided'];
    case 'readShutBefore':
      return ['the contact read shut before the door shut'];
    case 'undelivered':
      return [
        clause.attempts.cutByEnd > 0
          ? 'the end of the timeline cut the alert off'
          : 'an alert was decided but not delivered',
      ];
    case 'decided':
      return [whyLate(clause)];
    case 'earlier':
      return ['an earlier alert was not delivered'];
    case 'meanwhile':
      return clause.what.flatMap((one) =>
        one.kind === 'quiet' || one.kind === 'unsent' ? causesIn(one) : [circumstance(one)],
      );
    case 'openChecks':
      return [openChecks(clause)];
    case 'ghosts':
      return ['the contact read open while the door was shut'];
    case 'decidedShut':
      return ['decided while the door was shut'];
    case 'ownRule':
      return [
        clause.opening === null
          ? 'the contact read open while the door was shut'
          : `the logic decided it in ${clause.opening.brief ? 'a brief' : 'an'} opening`,
      ];
    case 'noOpenCheck':
      return ['decided at a check that read shut'];
    // These give the figures of a case, or begin another clause.
    case 'opened':
    case 'counted':
    case 'late':
      return [];
    default:
      return unreachable(clause);
  }
}

function whyLate({ attempts, afterMs, sentForMs }: ClauseOf<'decided'>): string {
  if (attempts.failed > 0) return 'attempts to send failed';
  if (attempts.cutByReset + attempts.cutByPower + attempts.cutByCharge > 0) {
    return 'an attempt to send was cut off';
  }
  return afterMs >= sentForMs ? 'decided late' : 'sent late';
}

function openChecks({ checks, openings }: ClauseOf<'openChecks'>): string {
  const brief = openings.every((one) => one.brief) ? 'brief ' : '';
  const several = inWords(openings.length, `${brief}opening`);
  return `${inWords(checks, 'check')} in ${several}`;
}

function inWords(count: number, noun: string): string {
  const plain = countWords[count] ?? numberText(count);
  return counted(count, noun).replace(/^\S+/u, plain);
}

function circumstance(what: Circumstance): string {
  switch (what.kind) {
    case 'off':
      return 'no power for a part of it';
    case 'held':
      return 'the device was waiting for a reset';
    case 'sending':
      return 'the device was sending';
    case 'wakesCut':
      return 'a reset cut off a wake';
    case 'readShut':
      return 'the contact read shut at a check';
    case 'countLost':
      return 'a power loss lost counted checks';
    case 'countEmptied':
      return 'the end of a charge lost counted checks';
    case 'countCleared':
      return 'a reset cleared counted checks';
    default:
      return unreachable(what);
  }
}
