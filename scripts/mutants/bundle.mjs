// Sources with all their mutants in them, and the tests that concern them, as one module that a process can load again and
// again. Each mutant is a branch that is taken while its number is the active one.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { Instrumenter } from '@stryker-mutator/instrumenter';
import * as esbuild from 'esbuild';
import { root } from '../support/set-up.mjs';

/**
 * @typedef {object} Mutant
 * @property {string} id
 * @property {string} file from the root, with slashes
 * @property {string} line the text of the line where it starts
 * @property {number} lineNumber
 * @property {string} found
 * @property {string} replacement
 * @property {boolean} ignored an invariant, or words for people
 */

/** @typedef {{ line: number, column: number }} Position lines and columns count from 0 */
/** @typedef {{ start: Position, end: Position }} Location */

const nothing = () => undefined;
const quiet = () => false;
const logger = {
  ...{ trace: nothing, debug: nothing, info: nothing, warn: console.warn, error: console.error },
  ...{ fatal: console.error, isTraceEnabled: quiet, isDebugEnabled: quiet, isInfoEnabled: quiet },
  ...{ isWarnEnabled: quiet, isErrorEnabled: quiet, isFatalEnabled: quiet },
};

/** They never fail in a right program, so that no test can notice a weaker one. */
const invariants = {
  /** @param {any} at a place in the syntax tree */
  shouldIgnore: (at) => {
    const { callee, consequent, test } = at.node;
    const why = 'an invariant';
    if (at.isCallExpression() && callee?.name === 'invariant') return why;
    if (at.isNewExpression() && callee?.name === 'InvariantError') return why;
    const last = at.isSwitchCase() && test === null ? consequent[0] : null;
    return last?.argument?.callee?.name === 'unreachable' ? why : undefined;
  },
};

/**
 * Only the mutants of the sample are in the code, so that the rest of it is as quick as without any.
 * @param {readonly string[]} sources files to be mutated, from the root
 * @param {number} every one mutant of this many is tried
 * @returns {Promise<{ mutants: readonly Mutant[], instrumented: ReadonlyMap<string, string> }>} sources by full path
 */
export async function mutatedSources(sources, every) {
  const contents = new Map(
    sources.map((file) => [path.join(root, file), readFileSync(path.join(root, file), 'utf8')]),
  );
  const all = await instrument(contents, null);
  const mutants = sampled(
    all.mutants.map((mutant) => mutantAt(mutant, contents.get(mutant.fileName) ?? '')),
    every,
  );
  const tried = new Set(mutants.flatMap(({ id, ignored }) => (ignored ? [] : [id])));
  const made = every === 1 ? all : await instrument(contents, tried);
  if (made.mutants.length !== all.mutants.length) throw new Error('mutants have other numbers');
  return { mutants, instrumented: new Map(made.files.map(({ name, content }) => [name, content])) };
}

/**
 * @param {ReadonlyMap<string, string>} contents
 * @param {ReadonlySet<string> | null} chosen null: all
 * @returns {Promise<{ files: { name: string, content: string }[], mutants: Placed[] }>}
 */
async function instrument(contents, chosen) {
  const options = {
    ...{ plugins: null, excludedMutations: [], ignorers: [invariants] },
    ...{ noHeader: true, mutationRange: [] },
  };
  const files = [...contents].map(([name, content]) => ({ name, content, mutate: true }));
  /** @type {any} */
  const instrumenter = new Instrumenter(logger);
  const transform = instrumenter._transform;
  instrumenter._transform = (/** @type {any[]} */ ...[tree, collector, ...rest]) => {
    collector.collect = (/** @type {any[]} */ ...found) => {
      const mutant = Object.getPrototypeOf(collector).collect.apply(collector, found);
      if (chosen?.has(mutant.id) === false) mutant.ignoreReason ??= 'not in the sample';
      return mutant;
    };
    transform(tree, collector, ...rest);
  };
  return await instrumenter.instrument(files, options);
}

/** One in `every` of the mutants that are tried, counted across files, so that small files have their share. @param {readonly Mutant[]} mutants @param {number} every */
function sampled(mutants, every) {
  let count = 0;
  return mutants.filter(({ ignored }) => {
    if (ignored) return true;
    count += 1;
    return count % every === 0;
  });
}

/** @typedef {{ id: string, fileName: string, location: Location, replacement: string, status?: string }} Placed */

/**
 * @param {Placed} mutant
 * @param {string} content of its file
 * @returns {Mutant}
 */
function mutantAt({ id, fileName, location, replacement, status }, content) {
  const lines = content.split('\n');
  const { start, end } = location;
  const found = lines
    .slice(start.line, end.line + 1)
    .map((line, index, all) =>
      line.slice(index === 0 ? start.column : 0, index === all.length - 1 ? end.column : undefined),
    )
    .join('\n');
  const isWords = /^["'`]/u.test(found) && found.includes(' ') && /^(?:""|``)$/u.test(replacement);
  return {
    id,
    file: path.relative(root, fileName).split(path.sep).join('/'),
    lineNumber: start.line + 1,
    line: (lines[start.line] ?? '').trim(),
    found: oneLine(found),
    replacement: oneLine(replacement),
    ignored: status === 'Ignored' || isWords,
  };
}

/** @param {string} text */
function oneLine(text) {
  const flat = text.replaceAll(/\s+/g, ' ');
  return flat.length <= 100 ? flat : `${flat.slice(0, 99)}…`;
}

/** With mutants, properties see fewer cases, and none goes on until it has seen enough. */
const fewer = new Map([
  [
    path.join('tests', 'support', 'until-seen.ts'),
    "import fc from 'fast-check';\nexport const assertUntil = (property, parameters) => fc.assert(property, parameters);",
  ],
]);

/**
 * @param {ReadonlyMap<string, string>} instrumented by full path
 * @param {readonly string[]} tests
 */
export async function bundled(instrumented, tests) {
  const standIn = path.join(root, 'scripts', 'mutants', 'vitest.mjs');
  const entry = [
    `import ${JSON.stringify(path.join(root, 'tests', 'support', 'setup.ts'))};`,
    ...tests.flatMap((file) => [
      `import 'in-file:${file}';`,
      `import ${JSON.stringify(path.join(root, file))};`,
    ]),
    `export { tests } from 'vitest';`,
  ];
  /** @type {esbuild.Plugin} */
  const plugin = {
    name: 'mutants',
    setup(build) {
      build.onResolve({ filter: /^vitest$/ }, () => ({ path: standIn }));
      build.onResolve({ filter: /^in-file:/ }, ({ path: name }) => ({
        path: name.slice('in-file:'.length),
        namespace: 'in-file',
      }));
      build.onLoad({ filter: /./, namespace: 'in-file' }, ({ path: name }) => ({
        contents: `import { inFile } from 'vitest'; inFile(${JSON.stringify(name)});`,
        resolveDir: root,
      }));
      build.onLoad({ filter: /\.tsx?$/, namespace: 'file' }, ({ path: name }) => {
        const content =
          fewer.get(path.relative(root, name)) ??
          instrumented.get(name) ??
          readFileSync(name, 'utf8');
        const url = JSON.stringify(pathToFileURL(name).href);
        return {
          contents: content.replaceAll('import.meta.url', url),
          loader: name.endsWith('x') ? 'tsx' : 'ts',
        };
      });
    },
  };
  const { outputFiles } = await esbuild.build({
    stdin: { contents: entry.join('\n'), resolveDir: root, loader: 'ts' },
    ...{ bundle: true, write: false, format: 'iife', globalName: 'bundle' },
    ...{ platform: 'node', target: 'node20' },
    ...{ packages: 'external', ignoreAnnotations: true, plugins: [plugin], logLevel: 'error' },
  });
  // The process that runs this loads packages once.
  const text = outputFiles[0]?.text ?? '';
  const required = /__toESM\(__require\(("[^"]+")\), 1\)|\b__require\(("[^"]+")\)/gu;
  return `${text.replaceAll(required, 'packages[$1$2]')}return bundle.tests;\n`;
}
