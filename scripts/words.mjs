// Refuses phrases that are never right in a text for people, each with what to write instead. It reads whole lines of the
// files below `checked`, prose and code alike: add a folder there once its texts are clean.
import { readdirSync, readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { root } from './support/set-up.mjs';

/** Files and folders whose texts are checked. */
const checked = [
  'README.md',
  'DEVELOPERS.md',
  'docs',
  'scenarios',
  'scripts',
  'src',
  'tests',
  'bench',
];

/** Made from the sources: their words are those of `src`. */
const made = ['docs/watch-file.md', 'docs/scenarios.md'];

/** Quotes the phrases that are refused. */
const quoting = ['tests/docs/words.test.ts'];

const kinds = new Set(['.md', '.ts', '.tsx', '.mjs', '.cjs', '.c', '.h', '.yaml']);

/** @type {readonly (readonly [phrase: RegExp, instead: string])[]} */
export const phrases = [
  [/^(?:<{7}|>{7}) /u, 'one side of the conflict'],
  [/\bh[eo]ld(?:s|ing)? (?:\S+ ){0,8}against\b/iu, 'compare with, check against'],
  [/\b(?:is|are|was|were) held to\b/iu, 'is compared with, must meet'],
  [/\b(?:what|all that|something|things|nothing) (?:is |are )?asked\b/iu, 'the requirement'],
  [/\bis asked of\b/iu, 'is required of'],
  [
    /\b(?:at (?:most|least)|for|in|within|of|by|from) so (?:many|much|long)\b/iu,
    'a number or a noun',
  ],
  [/\bso long after\b/iu, 'a duration after'],
  [/\bwhoever\b/iu, 'the person who, you'],
  [/\bsuch as there (?:is|are)\b/iu, 'a noun'],
  [/\bwhat (?:came|comes|has come|should come) of\b/iu, 'the result'],
  [/\bcom(?:e|es) of it\b/iu, 'results from it'],
  [/\b(?:that|which) comes? along\b/iu, 'is included'],
  [/\bas the moment has it\b/iu, 'depends on when it starts'],
  [/\bis no (?:state|whole number|time)\b/iu, 'is not a, has no'],
  [/\banew\b/iu, 'again'],
  [/\blies? over (?:what|the)\b/iu, 'overrides'],
  [/\b(?:lived?|lives|living) through\b/iu, 'simulated'],
  [/\byears lived\b/iu, 'simulated years'],
  [/\bpower cuts?\b/iu, 'power loss'],
  [/\bfrom rest\b/iu, 'at rest'],
  [/\btold (?:after|within|of|or not)\b/iu, 'reported'],
  [/\bcr(?:y|ies) for nothing\b/iu, 'raises a false alarm'],
  [/\b(?:alarms|alerts|openings|leave-opens|misses|outages|losses|rates?) a year\b/iu, 'per year'],
];

/**
 * Phrases to replace in a text, each with its line.
 * @param {string} text
 */
export function wordsToReplace(text) {
  return text.split('\n').flatMap((line, index) =>
    phrases.flatMap(([phrase, instead]) => {
      const [found] = phrase.exec(line) ?? [];
      return found === undefined ? [] : [{ line: index + 1, found, instead }];
    }),
  );
}

/** @param {string} name @returns {string[]} */
function filesBelow(name) {
  const full = path.join(root, name);
  if (!statSync(full).isDirectory()) return [name];
  return readdirSync(full).flatMap((inner) => filesBelow(`${name}/${inner}`));
}

function main() {
  const files = checked
    .flatMap(filesBelow)
    .filter((file) => kinds.has(path.extname(file)) && ![...made, ...quoting].includes(file));
  const findings = files.flatMap((file) =>
    wordsToReplace(readFileSync(path.join(root, file), 'utf8')).map(
      ({ line, found, instead }) => `${file}:${line}: "${found}": write ${instead}`,
    ),
  );
  for (const finding of findings) console.error(finding);
  process.exitCode = findings.length === 0 ? 0 : 1;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) main();
