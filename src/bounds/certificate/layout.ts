// A certificate's JSON for people as well: a line for each state, each situation and each course.

/** The text of a plain object, with the lists and objects that are long spread over lines. */
export function laidOut(value: object): string {
  const lines = Object.entries(value).map(
    ([key, item]) => `  ${JSON.stringify(key)}: ${part(item)}`,
  );
  return `{\n${lines.join(',\n')}\n}\n`;
}

function part(item: unknown): string {
  if (Array.isArray(item))
    return rows(
      '[',
      item.map((row) => JSON.stringify(row)),
      ']',
    );
  if (typeof item !== 'object' || item === null) return JSON.stringify(item);
  if ('states' in item && 'first' in item && Array.isArray(item.states)) {
    const states = item.states.map((row) => JSON.stringify(row));
    return `{ "first": ${JSON.stringify(item.first)}, "states": ${rows('[', states, ']')} }`;
  }
  const fields = Object.entries(item).map(
    ([key, field]) => `${JSON.stringify(key)}: ${JSON.stringify(field)}`,
  );
  return rows('{', fields, '}');
}

function rows(open: string, lines: readonly string[], close: string): string {
  return lines.length === 0
    ? `${open}${close}`
    : `${open}\n${lines.map((line) => `    ${line}`).join(',\n')}\n  ${close}`;
}
