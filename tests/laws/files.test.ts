// Random watch files and scenarios with every key and every fault: each can be read, written and read again, and what
// dozewatch warns of is so.
import { describe, expect, it } from 'vitest';
import { fileLaw } from './support/file-laws.js';
import { lawCase } from './support/law-case.js';
import { warningLaw } from './support/warning-laws.js';

// The soak runs the same laws on new cases.
const cases = 500;
const perTest = 100;
const starts = Array.from({ length: cases / perTest }, (_, index) => index * perTest);

describe('random watch files and scenarios', () => {
  it.each(starts)(
    'are the same once they are written again, and no warning of theirs is refuted, from case %i on',
    (from) => {
      for (let index = from; index < from + perTest; index += 1) {
        const one = lawCase('files', index, 'any');
        const broken = [...fileLaw(one), ...warningLaw(one)];
        expect(broken, `case ${String(index)}:\n${one.watchText}\n${one.scenarioText}`).toEqual([]);
      }
    },
  );
});
