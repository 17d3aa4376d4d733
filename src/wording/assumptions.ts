// What simulated years take for granted of the person, in words: it belongs into the headline.
import { durationText, ppmText } from '../base/index.js';
import type { AnswerDelay } from '../model/index.js';
import type { WatchFile } from '../scenarios/index.js';
import { renewalOf } from './renewal.js';

/** As the end of a headline, such as `, assuming that A and that B`; empty: nothing is assumed. */
export function assumingText(assumes: readonly string[]): string {
  const clauses = assumes.map((one) => `that ${one}`);
  const last = clauses.pop();
  if (last === undefined) return '';
  return `, assuming ${clauses.length === 0 ? last : `${clauses.join(', ')} and ${last}`}`;
}

export const nobodyResets =
  'nobody ever resets the device after an alert (answer.afterAlert changes that)';

const somebodyResets = 'somebody resets the device';
const messagesLost = 'of messages are lost';

/** Whether these years have devices that wait for a reset after an alert that nobody saw. */
export function waitsAfterLoss(assumes: readonly string[]): boolean {
  const isLossy = assumes.some((one) => one.endsWith(messagesLost));
  return isLossy && assumes.some((one) => one.startsWith(somebodyResets));
}

/** Clauses that go on from `assuming that`. */
export function assumptions({ watch, answer, supply, delivery }: WatchFile): readonly string[] {
  const holds = watch.afterAlert === 'hold-until-reset';
  const delay = answer?.afterAlert ?? null;
  const charges = answer?.charges ?? null;
  const clauses: string[] = [];
  if (holds) {
    clauses.push(delay === null ? nobodyResets : `${somebodyResets} ${delayText(delay)}`);
  }
  const { does } = renewalOf(supply);
  if (supply !== null) {
    if (charges === null) clauses.push('the battery always has charge');
    else if (charges.everyMs !== null) {
      clauses.push(`somebody ${does} every ${durationText(charges.everyMs)}`);
    } else if (charges.afterWarningMs !== undefined) {
      clauses.push(
        watch.lowBattery === undefined
          ? `nobody ${does}, because the watch sends no low-battery message`
          : `somebody ${does} ${durationText(charges.afterWarningMs)} after a low-battery message`,
      );
    }
  }
  if (delivery.lostPpm > 0) clauses.push(`${ppmText(delivery.lostPpm)} ${messagesLost}`);
  if (delivery.seenAfterMs > 0) {
    clauses.push(`somebody sees a message ${durationText(delivery.seenAfterMs)} after it arrives`);
  }
  return clauses;
}

/** Whether the watch file says that messages are lost, or seen late. */
export function isDeliverySet({ delivery }: Pick<WatchFile, 'delivery'>): boolean {
  return delivery.lostPpm > 0 || delivery.seenAfterMs > 0;
}

/** Of replays and proofs. */
export const deliveryIgnored =
  'ignored here: an alert counts as reported when the network has taken it (estimate, year and margin use delivery:)';

function delayText(delay: AnswerDelay): string {
  switch (delay.kind) {
    case 'fixed':
      return `${durationText(delay.ms)} after an alert`;
    case 'lognormal':
      return `about ${durationText(delay.medianMs)} after an alert`;
    case 'byNight':
      return `${durationText(delay.dayMs)} after an alert by day, and at most ${durationText(delay.nightMs)} after one by night`;
  }
}
