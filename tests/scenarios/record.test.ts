// Rows are cut the way a well-known CSV parser cuts them.
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isQuoteOpen, placeIn, plainField, splitRecord } from '../../src/scenarios/log/record.js';

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
          expect(isQuoteOpen(row, delimiter)).toBe(false);
          // A line that ends inside a field is not the end of its row.
          for (const { index } of row.matchAll(/\n/gu)) {
            expect(isQuoteOpen(row.slice(0, index), delimiter)).toBe(true);
          }
          if (row === '') return;
          const parsed = parse(row, { delimiter, record_delimiter: '\u{10FFFF}' });
          expect(parsed).toEqual([values]);
        },
      ),
      { numRuns: 500 },
    );
  });

  it('goes on in the next line only where a field begins with a quote', () => {
    for (const row of ['a,5" gap', 'a, "b', 'a,b"', '"a"b,"c', '']) {
      expect(isQuoteOpen(row, ',')).toBe(false);
    }
    for (const row of ['"', 'a,"b', 'a,"b""', '"a","']) expect(isQuoteOpen(row, ',')).toBe(true);
    expect(isQuoteOpen('a;"b,c', ',')).toBe(false);
    expect(isQuoteOpen('a;"b,c', ';')).toBe(true);
  });

  it('has its fields on the lines on which they are', () => {
    const row = '"two\nlines",x,"a\nb",y';
    const record = splitRecord(row, ',');
    const places = record.ok
      ? record.value.map(({ column }) => placeIn(row, column - 1, 7))
      : expect.fail('it is a row');
    expect(places).toEqual([
      { line: 7, column: 1 },
      { line: 8, column: 8 },
      { line: 8, column: 10 },
      { line: 9, column: 4 },
    ]);
    // Behind other text of its first line.
    expect(placeIn('{"a":\n1}', 2, 3, 5)).toEqual({ line: 3, column: 7 });
    expect(placeIn('{"a":\n1}', 6, 3, 5)).toEqual({ line: 4, column: 1 });
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
