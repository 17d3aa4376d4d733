// The JSON Schemas that editors use, and the references of watch files and scenarios, come from the definitions that check the
// files. `--check` writes nothing and fails if a committed file differs from what the definitions give.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { importTypeScript } from './support/import-typescript.mjs';
import { PlainError } from './support/require-tool.mjs';
import { scenarioReference, watchReference } from './support/schema-reference.mjs';
import { root } from './support/set-up.mjs';

const source = 'src/scenarios/schema.ts';
/** @param {unknown} schema */
const asJson = (schema) => `${JSON.stringify(schema, null, 2)}\n`;

/** Each file, the definition that it comes from, and how that is written. */
const made = /** @type {const} */ ([
  ['schemas/watch.schema.json', 'watchJsonSchema', asJson],
  ['schemas/scenario.schema.json', 'scenarioJsonSchema', asJson],
  ['docs/watch-file.md', 'watchJsonSchema', watchReference],
  ['docs/scenarios.md', 'scenarioJsonSchema', scenarioReference],
]);

/** Writes the schemas that differ from what is there. */
export async function writeSchemas() {
  for (const { file, text } of await staleSchemas()) {
    mkdirSync(path.dirname(path.join(root, file)), { recursive: true });
    writeFileSync(path.join(root, file), text);
  }
}

/** The schema files that are missing or out of date, each with the text it should hold. */
async function staleSchemas() {
  if (!existsSync(path.join(root, source))) {
    console.error(`schemas: no ${source} yet, left out`);
    return [];
  }
  const definitions = await importTypeScript(source);
  const wanted = made.map(([file, name, write]) => {
    const give = definitions[name];
    if (typeof give !== 'function') throw new PlainError(`${source} exports no ${name}()`);
    return { file, text: write(give()) };
  });
  return wanted.filter(({ file, text }) => {
    const full = path.join(root, file);
    return !existsSync(full) || readFileSync(full, 'utf8') !== text;
  });
}

async function main() {
  if (!process.argv.includes('--check')) return writeSchemas();
  const stale = (await staleSchemas()).map(({ file }) => file);
  if (stale.length === 0) return;
  console.error(`${stale.join(', ')}: not what ${source} gives; run npm run schemas`);
  process.exitCode = 1;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) await main();
