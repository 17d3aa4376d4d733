// Builds dist/: the command line as one ESM bundle cut at every `import()`, so that a command loads what it
// needs; the library entries with their packages left outside; and, unless `--no-types`, declarations.
//
// All of the bundle lies flat in dist/: in any of it, `new URL('./x-worker.js', import.meta.url)` finds the
// worker built from src/cli/x/worker.ts, and `new URL('../schemas/', import.meta.url)` the schemas.
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import * as esbuild from 'esbuild';
import { writeSchemas } from './schemas.mjs';
import { runNode } from './support/process.mjs';
import { PlainError } from './support/require-tool.mjs';
import { filesUnder, firstLine, hashOfSources, noteBuilt, root } from './support/set-up.mjs';

const dist = path.join(root, 'dist');
const typesDir = path.join(dist, 'types');

// Left out of the bundle: one is native, the others read files that are beside their own.
const outsideTheBundle = ['@resvg/resvg-js', 'highs', 'tinypool'];

/** @type {esbuild.BuildOptions} */
const common = {
  absWorkingDir: root,
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  charset: 'utf8',
  legalComments: 'linked',
  logLevel: 'warning',
  write: false,
};

/** @param {{ types: boolean }} options */
export async function build({ types }) {
  const sources = hashOfSources();
  await writeSchemas();
  const outputs = await Promise.all([bundleCommandLine(), bundleLibrary(), bundlePages()]);
  replaceDist(outputs.flat());
  if (types) await writeDeclarations();
  noteBuilt(sources);
}

async function bundleCommandLine() {
  const entryPoints = present({
    cli: 'src/cli/main.ts',
    ...workersOf(path.join('src', 'cli')),
  });
  if (Object.keys(entryPoints).length === 0) return [];
  const { outputFiles = [] } = await esbuild.build({
    ...common,
    entryPoints,
    outdir: dist,
    external: outsideTheBundle,
    // Less text is read sooner; names stay, for what a fault says of where it was.
    minifyWhitespace: true,
    minifySyntax: true,
    // Packages in the older module format ask for Node's own modules by `require`, which ESM lacks.
    banner: {
      js: "import { createRequire as dwCreateRequire } from 'node:module';\nconst require = dwCreateRequire(import.meta.url);",
    },
  });
  return outputFiles;
}

async function bundleLibrary() {
  const entryPoints = present({ index: 'src/index.ts', arbitraries: 'src/hunt/index.ts' });
  if (Object.keys(entryPoints).length === 0) return [];
  const { outputFiles = [] } = await esbuild.build({
    ...common,
    entryPoints,
    outdir: path.join(dist, 'lib'),
    // Anybody who combines our arbitraries with their own must share one fast-check, and so on.
    packages: 'external',
    sourcemap: 'linked',
  });
  return outputFiles;
}

/**
 * Of jstat a page needs two quantiles, and nothing in its one file can be shaken off: a page takes them from the part of
 * the package's sources that they stand in, a tenth of the whole.
 * @type {esbuild.Plugin}
 */
const quantilesOnly = {
  name: 'quantiles-only',
  setup(pages) {
    pages.onLoad({ filter: /\bjstat\.js$/ }, ({ path: whole }) => {
      const part = path.join(path.dirname(whole), '..', 'src', 'special.js');
      const source = readFileSync(part, 'utf8');
      return { contents: `const jStat = { fn: {} };\n${source}\nexport default jStat;` };
    });
  },
};

/**
 * Scales of pages are of numbers: the package that also interpolates colours, dates and shapes is a fortieth of the
 * planner, so the one function that is called stands here in its place, by the same formula.
 * @type {esbuild.Plugin}
 */
const numbersOnly = {
  name: 'numbers-only',
  setup(pages) {
    pages.onLoad({ filter: /\bd3-interpolate\b/ }, () => ({
      contents: `export const interpolateNumber = (a, b) => (t) => a * (1 - t) + b * t;
export const interpolate = interpolateNumber;
export const interpolateRound = undefined;
export const piecewise = undefined;`,
    }));
  },
};

/**
 * Pages read files and write no schemas of them: what would is left out, a fiftieth of the planner. Its functions are
 * named where the package is set up, and called by nobody.
 * @type {esbuild.Plugin}
 */
const noSchemasWritten = {
  name: 'no-schemas-written',
  setup(pages) {
    const filter = /\bzod\b.*\bcore\b.(?:to-json-schema|json-schema-processors)\.js$/;
    pages.onLoad({ filter }, ({ path: file }) => {
      const names = [
        ...readFileSync(file, 'utf8').matchAll(/^export (?:const|function|class) (\w+)/gm),
      ];
      return { contents: names.map(([, name]) => `export const ${name} = () => {};`).join('\n') };
    });
  },
};

/** The scripts of the pages that commands write: for browsers, each one whole. */
async function bundlePages() {
  const entryPoints = present({
    report: 'src/report/page/main.tsx',
    planner: 'src/planner/page/main.tsx',
    drill: 'src/sheets/page/main.tsx',
  });
  const { outputFiles = [] } = await esbuild.build({
    ...common,
    entryPoints,
    outdir: path.join(dist, 'pages'),
    splitting: false,
    format: 'iife',
    platform: 'browser',
    target: ['chrome109', 'firefox115', 'safari16'],
    minify: true,
    legalComments: 'none',
    plugins: [quantilesOnly, numbersOnly, noSchemasWritten],
  });
  return outputFiles;
}

/**
 * The workers of commands, as entries: x-worker from x/worker.ts.
 * @param {string} folder
 */
function workersOf(folder) {
  if (!existsSync(path.join(root, folder))) return {};
  const names = readdirSync(path.join(root, folder)).filter((name) =>
    existsSync(path.join(root, folder, name, 'worker.ts')),
  );
  return Object.fromEntries(
    names.map((name) => [`${name}-worker`, path.join(folder, name, 'worker.ts')]),
  );
}

/**
 * The entries whose source exists; the others are named on stderr.
 * @param {Record<string, string>} entryPoints
 */
function present(entryPoints) {
  const found = Object.entries(entryPoints).filter(([, file]) => {
    const exists = existsSync(path.join(root, file));
    if (!exists) console.error(`build: no ${file} yet, left out`);
    return exists;
  });
  return Object.fromEntries(found);
}

/**
 * Writes what changed and removes what is no longer made, so that a command running meanwhile finds its files.
 * @param {readonly esbuild.OutputFile[]} outputs
 */
function replaceDist(outputs) {
  for (const output of outputs) {
    const text =
      output.path === path.join(dist, 'cli.js') ? withHashbang(output.text) : output.text;
    if (existsSync(output.path) && readFileSync(output.path, 'utf8') === text) continue;
    mkdirSync(path.dirname(output.path), { recursive: true });
    writeFileSync(output.path, text);
  }
  const made = new Set(outputs.map((output) => output.path));
  for (const file of filesUnder(dist)) {
    if (!made.has(file) && !file.startsWith(typesDir)) rmSync(file);
  }
  const cli = path.join(dist, 'cli.js');
  if (existsSync(cli)) chmodSync(cli, 0o755);
}

/** @param {string} text */
function withHashbang(text) {
  return text.startsWith('#!') ? text : `#!/usr/bin/env node\n${text}`;
}

export async function writeDeclarations() {
  const entries = ['src/index.ts', 'src/hunt/index.ts'];
  if (!entries.every((file) => existsSync(path.join(root, file)))) {
    console.error('build: library entries are not there yet, no declarations written');
    return;
  }
  rmSync(typesDir, { recursive: true, force: true });
  const tsc = path.join('node_modules', 'typescript7', 'bin', 'tsc');
  const { status } = await runNode([tsc, '-p', 'tsconfig.build.json'], { cwd: root });
  if (status !== 0) throw new PlainError('build: the declarations do not compile, see above');
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const started = performance.now();
  try {
    await build({ types: !process.argv.includes('--no-types') });
    console.log(`built dist/ in ${Math.round(performance.now() - started)} ms`);
  } catch (error) {
    console.error(firstLine(error));
    process.exitCode = 1;
  }
}
