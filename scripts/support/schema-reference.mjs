// The references of the watch file and of scenarios as pages, from the schemas that editors use: each key, its meaning,
// its values and its default.

/**
 * The part of JSON Schema that these schemas use.
 * @typedef {{
 *   description?: string, default?: unknown, type?: string | string[], enum?: unknown[], const?: unknown,
 *   anyOf?: Schema[], properties?: Record<string, Schema>, required?: string[], examples?: unknown[],
 *   items?: Schema, minimum?: number, maximum?: number, pattern?: string
 * }} Schema
 */

/** @typedef {{ key: string, meaning: string, values: string, standard: string }} Row */

const made =
  '<!-- Made from the schema by `npm run schemas`: change the definitions, not the page. -->\n';
const durations =
  'Durations have a unit: `400ms`, `90s`, `3m`, `1h30m`, `2d`, or ISO 8601 (`PT3M`).';

const watchHead = `${made}
# The watch file, key by key

The watch file describes the monitor, what you require of it, and what may go wrong around it. It is YAML or JSON, and \`dozewatch init\`
writes one with a comment on every setting. You may leave out every section and every key. An unknown key is an error.
${durations} [choosing.md](choosing.md) helps you choose the settings of the watch.
`;

const scenarioHead = `${made}
# Scenarios, key by key

A scenario is a door timeline: when the door is open, what goes wrong meanwhile, and what you expect the watch to do. It is
YAML or JSON. \`dozewatch replay\` runs one, \`dozewatch suite\` a whole folder ([ci.md](ci.md)). Only \`name\` is required. An unknown key is an error.

\`\`\`yaml
name: Delivery day at the flower store
start: 2026-05-08T06:00:00+02:00
length: 1d
door:
  - at 07:10 for 45s
  - { at: "07:30", for: 22m, note: wedged for the trolleys }
  - { at: +11h, for: 25m, gap: 10mm }
network: [{ down: "07:25", for: 1h }]
power: [{ lost: "09:00", for: 2m }]
resets: ["09:30"]
contact: [{ stuck: shut, at: "12:00", for: 1h }]
expect: { missed: 0, falseAlarms: 0, worstDelayAtMost: 75m }
\`\`\`

| an instant | means |
|---|---|
| \`"07:30"\` | the next 07:30 after the start, local time |
| \`day 2 07:30\` | 07:30 on the second day |
| \`+11h\` | 11 hours after the start |
| \`2026-05-08 07:30\` | this local time |

Write times of day in quotation marks. An opening may also be a sentence, such as \`at 17:00 for 25m ajar 10mm (not pulled home)\`.
${durations}

The folder \`scenarios\` of the package is a tour of examples, in reading order. If a requirement is not met, \`bounds --witness\` and \`hunt\` write
the scenario that shows it.
`;

/** @param {Schema} schema of the whole watch file */
export function watchReference(schema) {
  const sections = Object.entries(schema.properties ?? {}).filter(([name]) => name !== '$schema');
  return [watchHead, ...sections.map(([name, section]) => sectionText(`${name}:`, section))].join(
    '\n',
  );
}

/** @param {Schema} schema of a whole scenario */
export function scenarioReference(schema) {
  const keys = Object.entries(schema.properties ?? {}).filter(([name]) => name !== '$schema');
  const isSection = (/** @type {Schema} */ { type, properties }) =>
    properties !== undefined || [type ?? []].flat().includes('array');
  const plain = Object.fromEntries(keys.filter(([, field]) => !isSection(field)));
  const sections = keys.filter(([, field]) => isSection(field));
  const { required = [] } = schema;
  const top = sectionText('The scenario itself', { properties: plain, required });
  return [
    scenarioHead,
    top,
    ...sections.map(([name, section]) => sectionText(`${name}:`, entryOf(section))),
  ].join('\n');
}

/**
 * What the rows of a section are about: itself, or of a list one entry.
 * @param {Schema} section
 * @returns {Schema}
 */
function entryOf(section) {
  const { items } = section;
  if (items === undefined) return section;
  const [whole] = [items, ...(items.anyOf ?? [])].filter((one) => one.properties !== undefined);
  const short = [items, ...(items.anyOf ?? [])].filter((one) => one.type === 'string');
  const shortForms = short.flatMap(({ examples }) => (examples ?? []).map(written));
  const about = [
    section.description,
    whole === undefined ? 'A list of instants.' : 'A list; each entry has these keys.',
    ...(shortForms.length === 0 ? [] : [`Short form: ${shortForms.join(', ')}.`]),
  ];
  return { ...whole, description: about.filter((text) => text !== undefined).join(' ') };
}

/** @param {string} title @param {Schema} section */
function sectionText(title, section) {
  const rows = Object.entries(section.properties ?? {}).flatMap(([key, field]) =>
    rowsOf(key, field, section.required?.includes(key) === true),
  );
  const lines = rows.map(
    ({ key, meaning, values, standard }) => `| \`${key}\` | ${meaning} | ${values} | ${standard} |`,
  );
  const about = section.description === undefined ? [] : [section.description, ''];
  const table = ['| key | meaning | values | default |', '|---|---|---|---|', ...lines];
  return [`## ${title}`, '', ...about, ...(rows.length === 0 ? [] : [...table, ''])].join('\n');
}

/** @param {string} key @param {Schema} field @param {boolean} isRequired @returns {Row[]} */
function rowsOf(key, field, isRequired) {
  const { properties } = field;
  if (properties !== undefined && field.anyOf === undefined) {
    return Object.entries(properties).flatMap(([name, part]) =>
      rowsOf(`${key}.${name}`, part, field.required?.includes(name) === true),
    );
  }
  const forms = [field, ...(field.anyOf ?? [])];
  return [
    {
      key,
      meaning: cell(meaningOf(forms)),
      values: cell(formOf(field)),
      standard: cell(isRequired ? 'required' : written(field.default)),
    },
  ];
}

/**
 * Descriptions of the forms of one key, each sentence once: what a further form adds stands behind the name of that form.
 * @param {readonly Schema[]} forms
 */
function meaningOf(forms) {
  /** @type {Set<string>} */
  const known = new Set();
  const parts = forms.flatMap((form) => {
    const sentences = (form.description ?? '')
      .split(/(?<=\.)\s+(?=[A-Z])/u)
      .filter((sentence) => sentence !== '' && !known.has(sentence));
    if (sentences.length === 0) return [];
    const name = known.size === 0 ? '' : `${formName(form)}: `;
    for (const sentence of sentences) known.add(sentence);
    return [`${name}${sentences.join(' ')}`];
  });
  return parts.join(' ');
}

/** @param {Schema} form */
function formName(form) {
  const keys = Object.keys(form.properties ?? {});
  if (keys.length > 0 && keys.every((key) => key === 'min' || key === 'max')) return 'Range';
  return [form.type ?? []].flat().includes('array') ? 'List' : formOf(form);
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
