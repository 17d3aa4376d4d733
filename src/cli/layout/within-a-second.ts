// What a report suggests where a firmware that counts in whole seconds misses its instants by less than one.

/** The most that is still under a second. */
export const underASecondMs = 999;

export const withinASecond =
  'Every difference is under 1 s, as with firmware that counts in whole seconds: --tolerance 1s accepts it.';

export const lateByLessThanASecond =
  'Nothing here is late by 1 s or more: --tolerance 1s, for firmware that counts in whole seconds, accepts it.';
