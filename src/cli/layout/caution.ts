// The limits of dozewatch itself, in one line for help, and in full for reports that somebody may rely on.
export const caution =
  'Not a certified life-safety or medical monitor: local codes and licensed practice come first.';

/** One paragraph, to be wrapped. */
export const cautionWords =
  'dozewatch is not a certified life-safety or medical monitor. Local codes and licensed practice come first, above all for food, medicine, lithium cells, and doors that people must get out by.';
