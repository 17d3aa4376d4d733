// Gaps that the contact cannot tell from a shut door, and those that it takes for an open one.
import type { BlindBandMm, GapBandMm, Gaps } from '../answer.js';
import type { BoundsQuestion } from '../question.js';

const umPerMm = 1_000;

type Door = Pick<BoundsQuestion, 'contact' | 'sealGapUm' | 'opensAtLeastUm'>;

type Contact = Pick<BoundsQuestion, 'contact' | 'sealGapUm'>;

/** The gaps at which the door is unsealed and the contact reads shut; null: an ideal contact, or no such gap. */
export function blindBandMmOf({ contact, sealGapUm }: Contact): BlindBandMm | null {
  if (contact === null) return null;
  const band = (toUm: number): GapBandMm | null =>
    toUm > sealGapUm ? [sealGapUm / umPerMm, toUm / umPerMm] : null;
  const closing = band(contact.operateGapUm);
  const creeping = band(contact.releaseGapUm);
  return closing === null && creeping === null ? null : { closing, creeping };
}

/** The gaps at which the door seals and the contact reads open; null: an ideal contact, or no such gap. */
export function eagerBandMmOf({ contact, sealGapUm }: Contact): BlindBandMm | null {
  if (contact === null) return null;
  const band = (fromUm: number): GapBandMm | null =>
    fromUm < sealGapUm ? [fromUm / umPerMm, sealGapUm / umPerMm] : null;
  const closing = band(contact.operateGapUm);
  const creeping = band(contact.releaseGapUm);
  return closing === null && creeping === null ? null : { closing, creeping };
}

/** Null: for all openings. */
export function gapsOf({ contact, sealGapUm, opensAtLeastUm }: Door): Gaps | null {
  if (contact === null || contact.releaseGapUm <= sealGapUm) return null;
  const overMm = contact.releaseGapUm / umPerMm;
  const sealMm = sealGapUm / umPerMm;
  if (opensAtLeastUm === null) return { kind: 'wider', overMm, opensAtLeastMm: null, sealMm };
  const kind = opensAtLeastUm > contact.releaseGapUm ? 'assumed' : 'blind';
  return { kind, overMm, opensAtLeastMm: opensAtLeastUm / umPerMm, sealMm };
}
