// Rows are cut the way a well-known CSV parser cuts them.
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hasOpenQuote, plainField, splitRecord } from '../../src/scenarios/log/record.js';

const fields = fc.array(
  fc.oneof(
    fc.constantFrom('', 'open', 'a,b', '"', '""', 'a"b', ' x ', 'one\ntwo'),
    fc.string({ unit: 'grapheme', maxLength: 8 }),
  ),
  { minLength: 1, maxLength: 6 },
);

function written(values: readonly string[], delimiter: string, quoteAll: boolean): string {
  return values
    .map((value) =>
      quoteAll || /["\n\r]/.test(value) || value.includes(delimiter)
        ? `"${value.replaceAll('"', '""')}"`
        : value,
    )
    .join(delimiter);
}

const texts = (text: string, delimiter: string): readonly string[] => {
  const record = splitRecord(text, delimiter);
  return record.ok ? record.value.map((field) => field.text) : [record.problem.code];
};

describe('a row of delimited text', () => {
  it('has the fields that were written, and those that the other parser finds', () => {
    fc.assert(
      fc.property(
        fields,
        fc.constantFrom(',', ';', '\t'),
        fc.boolean(),
        (values, delimiter, all) => {
          const row = written(values, delimiter, all);
          expect(texts(row, delimiter)).toEqual(values);
          expect(hasOpenQuote(row)).toBe(false);
          if (row === '') return;
          const parsed = parse(row, { delimiter, record_delimiter: '\u{10FFFF}' });
          expect(parsed).toEqual([values]);
        },
      ),
      { numRuns: 500 },
    );
  });

  it('without quotes has the same fields where they are looked up one by one', () => {
    const plain = fields.map((values) => values.map((value) => value.replaceAll(/["\n\r,]/g, '')));
    fc.assert(
      fc.property(plain, (values) => {
        const row = values.join(',');
        values.forEach((value, index) => {
          expect(plainField(row, ',', index)).toBe(value);
        });
        expect(plainField(row, ',', values.length)).toBeUndefined();
      }),
    );
  });

  it.each(['"open"x', '"open', 'a,"b"c', '"a""'])(
    'with a quote out of place is refused: %s',
    (row) => {
      expect(texts(row, ',')).toEqual(['quote-misplaced']);
      expect(() => parse(row)).toThrow();
    },
  );

  it('says where each field begins', () => {
    const record = splitRecord('"a",bc,,"d"', ',');
    expect(record.ok && record.value.map(({ column }) => column)).toEqual([1, 5, 8, 9]);
  });
});
