// Import boundaries, made from the one layer table in scripts/layers.json: a folder imports the folders
// and packages its row names, others only through their index.ts, and nothing but the row with `node` does I/O.
const { readdirSync } = require('node:fs');
const layers = require('./scripts/layers.json');

const unlisted = readdirSync('src', { withFileTypes: true })
  .filter((entry) => entry.isDirectory() && !Object.hasOwn(layers, entry.name))
  .map((entry) => `src/${entry.name}`);
if (unlisted.length > 0) {
  throw new Error(`${unlisted.join(', ')}: no row in scripts/layers.json`);
}

const withIo = Object.entries(layers)
  .filter(([, layer]) => 'node' in layer)
  .map(([folder]) => `^src/${folder}/`);

/** @param {string} name */
const insidePackage = (name) => `node_modules/(@types/)?${name.replaceAll('.', '\\.')}/`;

const rulesOfLayers = Object.entries(layers).flatMap(([folder, layer]) => [
  {
    name: `layer-${folder}`,
    comment: `src/${folder} may import: ${layer.imports.join(', ') || 'no other folder'}`,
    severity: 'error',
    from: { path: `^src/${folder}/` },
    to: { path: '^src/', pathNot: [folder, ...layer.imports].map((name) => `^src/${name}/`) },
  },
  {
    name: `front-door-${folder}`,
    comment: `others import src/${folder} through its index.ts only`,
    severity: 'error',
    from: { path: '^(src|bench)/', pathNot: `^src/${folder}/` },
    to: { path: `^src/${folder}/`, pathNot: `^src/${folder}/index\\.ts$` },
  },
  {
    name: `packages-${folder}`,
    comment: `src/${folder} may use: ${layer.packages.join(', ') || 'no package'}; each has one home`,
    severity: 'error',
    from: { path: `^src/${folder}/` },
    to: { path: 'node_modules/', pathNot: layer.packages.map(insidePackage) },
  },
]);

module.exports = {
  forbidden: [
    { name: 'no-cycles', severity: 'error', from: {}, to: { circular: true } },
    { name: 'resolvable', severity: 'error', from: {}, to: { couldNotResolve: true } },
    {
      name: 'no-io',
      comment: 'files, processes, timers and workers are for src/cli',
      severity: 'error',
      from: { path: '^src/', pathNot: withIo },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'library-entry',
      comment:
        'the library is the front doors of the folders, without terminal, files or processes',
      severity: 'error',
      from: { path: '^src/[^/]+\\.ts$' },
      to: { path: ['node_modules/', ...withIo] },
    },
    {
      name: 'shipped-stands-alone',
      severity: 'error',
      from: { path: '^src/' },
      to: { path: '^(tests|bench|scripts)/' },
    },
    ...rulesOfLayers,
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    // Imports of types count too: a type is knowledge.
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
    },
  },
};
