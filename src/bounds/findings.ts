// What the owner should know of the watch, in one sentence each.
import { durationText } from '../base/index.js';
import type { BlindBandMm, Finding, Unreportable } from './answer.js';
import type { BoundsQuestion, DetectionBounds } from './bounds.js';

const umPerMm = 1_000;

/** The gaps at which the door is unsealed and the contact reads shut; null: an ideal contact, or no such gap. */
export function blindBandMmOf({ contact, sealGapUm }: BoundsQuestion): BlindBandMm | null {
  if (contact === null) return null;
  const band = (toUm: number): readonly [number, number] | null =>
    toUm > sealGapUm ? [sealGapUm / umPerMm, toUm / umPerMm] : null;
  const closing = band(contact.operateGapUm);
  const creeping = band(contact.releaseGapUm);
  return closing === null && creeping === null ? null : { closing, creeping };
}

/** How a door left open for ever can go unreported; null: it cannot. */
export function unreportableOf(
  { program }: BoundsQuestion,
  { courses }: DetectionBounds,
): Unreportable | null {
  if (courses.slowest.anyState.never === null) return null;
  if (program.watch.afterAlert === 'hold-until-reset') {
    return {
      sentence:
        'after an alert the device holds until somebody resets it, and a door opened meanwhile is never reported',
      stem: [
        'the door is left open, and the alert is delivered',
        'the device stays awake and idle',
        'the door is shut and opened again; nobody resets the device',
      ],
      repeats: ['the device goes on holding; no check is made'],
    };
  }
  return {
    sentence: 'from a state that this watch can reach, a door left open for ever is never reported',
    stem: ['the device comes to that state'],
    repeats: ['checks go on without an alert'],
  };
}

/** Cooldown holes and the like, each named where the watch has it. */
export function findingsOf(question: BoundsQuestion, found: DetectionBounds): readonly Finding[] {
  const { program, environment, contact } = question;
  const { watch } = program;
  const { atRest, anyState } = found.alwaysReportedFromMs;
  const findings: Finding[] = [];
  if (watch.alertCooldownMs > 0 && atRest !== null && anyState !== null && anyState > atRest) {
    const sentence =
      'a door that shuts and opens again between two checks stays the same opening to the device, and the ' +
      `cooldown of ${durationText(watch.alertCooldownMs)} then hides the new one: sure only from ${durationText(anyState)}`;
    findings.push({ code: 'cooldown-hole', sentence });
  }
  if (watch.afterAlert === 'hold-until-reset') {
    const sentence = 'after an alert nothing is watched until somebody resets the device';
    findings.push({ code: 'hold-until-reset', sentence });
  }
  if (environment.powerLosses > 0) {
    const sentence =
      'a power loss takes retained memory: open checks counted so far and an alert not yet delivered are gone';
    findings.push({ code: 'memory-lost', sentence });
  }
  if (watch.unsentWhenShut === 'drop') {
    const sentence =
      'an alert that could not be sent is dropped when the door is seen shut: of that opening nobody is told';
    findings.push({ code: 'alert-dropped', sentence });
  }
  const band = blindBandMmOf(question);
  if (band !== null) {
    const [from, to] = band.creeping ?? band.closing ?? [0, 0];
    const sentence = `a door that creeps open by more than ${String(from)} mm and up to ${String(to)} mm is unsealed and reads shut: no setting helps, only another place for the magnet`;
    findings.push({ code: 'blind-band', sentence });
  }
  if (contact !== null && contact.bounceMs > 1) {
    const sentence = `the bounce of ${durationText(contact.bounceMs)} is left out of these bounds`;
    findings.push({ code: 'bounce-left-out', sentence });
  }
  return findings;
}
