// A certificate's JSON for people as well: a line for each state, each run and each setting.

/** The text of a plain object, with the lists and objects that are long spread over lines. */
export function laidOut(value: object): string {
  return `${spread(Object.entries(value), '', part)}\n`;
}

function part(item: unknown): string {
  if (typeof item !== 'object' || item === null) return JSON.stringify(item);
  return spread(Object.entries(item), '  ', (field) =>
    Array.isArray(field) && field.some((row) => typeof row === 'object')
      ? listed(field, '    ')
      : JSON.stringify(field),
  );
}

function spread(
  fields: readonly (readonly [string, unknown])[],
  indent: string,
  text: (field: unknown) => string,
): string {
  const lines = fields.map(([key, field]) => `${indent}  ${JSON.stringify(key)}: ${text(field)}`);
  return `{\n${lines.join(',\n')}\n${indent}}`;
}

function listed(rows: readonly unknown[], indent: string): string {
  const lines = rows.map((row) => `${indent}  ${JSON.stringify(row)}`);
  return `[\n${lines.join(',\n')}\n${indent}]`;
}
