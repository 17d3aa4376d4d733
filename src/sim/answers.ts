// The person of a run: resets a device that holds some time after its alert arrived, and charges and resets one that has been
// silent for too long.

/** The part of a run's supply that a person has to do with: when they come for silence, and charge it. */
interface Charged {
  silenceMs: number;
}

export interface SilenceVisit {
  readonly noticedAfterMs: number;
  readonly comesAfterMs: number;
  /** Whether the heartbeat that was delivered then reaches somebody. Absent: each does. */
  readonly isHeartbeatSeen?: (deliveredMs: number) => boolean;
  /** They only reset the device, and do not charge it. Absent: they do both. */
  readonly onlyResets?: boolean;
}

/** What people do. */
export interface Answers {
  /** How long after a delivery, the first being number 0, somebody resets a device that holds; null: nobody does. */
  readonly alertAfterMs: ((deliveredMs: number, index: number) => number) | null;
  /** Silence of how long is noticed, and how long after that somebody comes; null: nobody does. */
  readonly silence: SilenceVisit | null;
  /** Whether a reset by button clears retained memory. */
  readonly clears: boolean;
}

/** Somebody came. */
export interface AnswerRecord {
  readonly atMs: number;
  readonly to: 'alert' | 'silence';
}

/** The person while a run goes on. */
export interface Person {
  readonly answers: Answers;
  /** When somebody comes for an alert, and when for silence; Infinity: nobody. */
  alertMs: number;
  silenceMs: number;
  /** When silence is noticed, unless a heartbeat comes before. */
  noticedMs: number;
  held: number;
  readonly came: AnswerRecord[];
}

export function openPerson(answers: Answers, firstBootMs: number, charge: Charged | null): Person {
  const never = Number.POSITIVE_INFINITY;
  const person = { answers, alertMs: never, silenceMs: never, noticedMs: never, held: 0, came: [] };
  hears(person, firstBootMs, charge);
  return person;
}

export function comesMs({ alertMs, silenceMs }: Person): number {
  return Math.min(alertMs, silenceMs);
}

/** An alert of a device that holds was delivered. Somebody who comes for it knows that no heartbeat is due before they reset it. */
export function answersAlert(person: Person, deliveredMs: number, charge: Charged | null): void {
  const { alertAfterMs } = person.answers;
  if (alertAfterMs === null) return;
  person.alertMs = Math.min(person.alertMs, deliveredMs + alertAfterMs(deliveredMs, person.held));
  person.held += 1;
  if (person.alertMs < Number.POSITIVE_INFINITY) hears(person, deliveredMs, charge);
}

/**
 * A heartbeat came, or people switched the device on, reset it or charged it when it was empty: silence counts from here,
 * unless it was noticed before. Where somebody is to reset it, it counts from that reset.
 */
export function hears(person: Person, atMs: number, charge: Charged | null): void {
  const { silence } = person.answers;
  if (silence === null || atMs >= person.noticedMs) return;
  const resetMs = person.alertMs < Number.POSITIVE_INFINITY ? person.alertMs : atMs;
  person.noticedMs = Math.max(atMs, resetMs) + silence.noticedAfterMs;
  person.silenceMs = person.noticedMs + silence.comesAfterMs;
  if (charge !== null && silence.onlyResets !== true) charge.silenceMs = person.silenceMs;
}

/** A heartbeat was delivered: somebody hears the device, unless it was lost on its further way. */
export function hearsHeartbeat(person: Person, deliveredMs: number, charge: Charged | null): void {
  const isSeen = person.answers.silence?.isHeartbeatSeen?.(deliveredMs) ?? true;
  if (isSeen) hears(person, deliveredMs, charge);
}

/** The person expected by this instant has come. */
export function hasCome(person: Person, untilMs: number, charge: Charged | null): void {
  if (person.alertMs <= untilMs) {
    person.came.push({ atMs: person.alertMs, to: 'alert' });
    person.alertMs = Number.POSITIVE_INFINITY;
  }
  if (person.silenceMs <= untilMs) {
    person.came.push({ atMs: person.silenceMs, to: 'silence' });
    const cameMs = person.silenceMs;
    person.noticedMs = Number.POSITIVE_INFINITY;
    person.silenceMs = Number.POSITIVE_INFINITY;
    hears(person, Math.max(cameMs, untilMs), charge);
  }
}
