// One thing to try on a watch: a timeline in plain numbers, so that it can be made smaller and rounder, and written down as a
// scenario. Every time that is drawn elsewhere is written out in it.
import { type Scene, worldOfScene } from '../timeline/index.js';
import type { ContactSettings, World } from '../world/index.js';

export type Trial = Scene;

/** The seed of everything that a world still draws: the readings of a chattering contact. */
export const trialSeed = '1';

/** The world of a trial; every opening is wide. @param contact of the watch file; null: ideal. */
export function worldOf(trial: Trial, contact: ContactSettings | null): World {
  return worldOfScene(trial, contact, trialSeed);
}
