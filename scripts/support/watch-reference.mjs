// The reference of the watch file as a page, from the schema that editors use: each key, what it says, what it may be
// and what stands where it is not written.

/**
 * The part of JSON Schema that the watch file's schema uses.
 * @typedef {{
 *   description?: string, default?: unknown, type?: string | string[], enum?: unknown[], const?: unknown,
 *   anyOf?: Schema[], properties?: Record<string, Schema>, required?: string[], examples?: unknown[],
 *   items?: Schema, minimum?: number, maximum?: number, pattern?: string
 * }} Schema
 */

/** @typedef {{ key: string, says: string, mayBe: string, otherwise: string }} Row */

const head = `# The watch file, key by key

Made from the schema by \`npm run schemas\`; do not edit. Every section and every key may be left out. Durations have a unit:
\`400ms\`, \`90s\`, \`3m\`, \`1h30m\`, \`2d\`, or ISO 8601 (\`PT3M\`).
`;

/** @param {Schema} schema of the whole file */
export function watchReference(schema) {
  const sections = Object.entries(schema.properties ?? {}).filter(([name]) => name !== '$schema');
  return [head, ...sections.map(([name, section]) => sectionText(name, section))].join('\n');
}

/** @param {string} name @param {Schema} section */
function sectionText(name, section) {
  const rows = Object.entries(section.properties ?? {}).flatMap(([key, field]) =>
    rowsOf(key, field, section.required?.includes(key) === true),
  );
  const lines = rows.map(
    ({ key, says, mayBe, otherwise }) => `| \`${key}\` | ${says} | ${mayBe} | ${otherwise} |`,
  );
  const about = section.description === undefined ? [] : [section.description, ''];
  const table = ['| key | | may be | otherwise |', '|---|---|---|---|', ...lines];
  return [`## ${name}:`, '', ...about, ...table, ''].join('\n');
}

/** @param {string} key @param {Schema} field @param {boolean} isRequired @returns {Row[]} */
function rowsOf(key, field, isRequired) {
  const { properties } = field;
  if (properties !== undefined && field.anyOf === undefined) {
    return Object.entries(properties).flatMap(([name, part]) =>
      rowsOf(`${key}.${name}`, part, field.required?.includes(name) === true),
    );
  }
  const says = [...new Set([field, ...(field.anyOf ?? [])].map((one) => one.description))];
  const otherwise = isRequired ? 'must be there' : written(field.default);
  return [
    {
      key,
      says: cell(says.filter((text) => text !== undefined).join(' ')),
      mayBe: cell(formOf(field)),
      otherwise: cell(otherwise),
    },
  ];
}

/** @param {Schema} field @returns {string} */
function formOf(field) {
  if (field.anyOf !== undefined) return [...new Set(field.anyOf.map(formOf))].join(', or ');
  if (field.enum !== undefined) return field.enum.map(written).join(', ');
  if (field.const !== undefined) return written(field.const);
  if (field.properties !== undefined) {
    return `\`{ ${Object.keys(field.properties).join(', ')} }\``;
  }
  const type = [field.type ?? []].flat().find((one) => one !== 'null');
  if (type === 'boolean') return '`true`, `false`';
  if (type === 'integer' || type === 'number') return numberForm(field, type);
  if (type === 'array') return `a list of: ${formOf(field.items ?? {})}`;
  if (field.pattern?.includes('hours?') === true) {
    const range = field.examples?.find((example) => String(example).includes('..'));
    return range === undefined ? 'a duration' : `a duration, or a range such as ${written(range)}`;
  }
  return field.examples === undefined
    ? 'text'
    : `such as ${field.examples.map(written).join(', ')}`;
}

/** @param {Schema} field @param {string} type */
function numberForm({ minimum, maximum }, type) {
  const what = type === 'integer' ? 'a whole number' : 'a number';
  if (minimum === undefined || maximum === undefined) return what;
  return maximum > 1e9 ? `${what} from ${minimum}` : `${what} from ${minimum} to ${maximum}`;
}

/** @param {unknown} value */
function written(value) {
  if (value === undefined) return '';
  return `\`${typeof value === 'string' ? value : JSON.stringify(value)}\``;
}

/** @param {string} text */
function cell(text) {
  return text.replaceAll('|', '\\|').replaceAll('\n', ' ');
}
