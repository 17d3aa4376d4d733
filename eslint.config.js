// Type-aware lint. Each ban below names what to write instead; the size limits and the determinism bans are
// what keeps a run a value.
import comments from '@eslint-community/eslint-plugin-eslint-comments';
import { defineConfig } from 'eslint/config';
import regexp from 'eslint-plugin-regexp';
import tseslint from 'typescript-eslint';

/** @typedef {{ selector: string, message: string }} Ban */

/** @type {Ban[]} */
const everywhere = [
  { selector: 'TSEnumDeclaration', message: 'Write a union of string literals.' },
];

/** @type {Ban[]} */
const longLists = [
  {
    selector: 'CallExpression[callee.property.name=/^(max|min|push|unshift)$/] > SpreadElement',
    message: 'A long list overflows the stack: leastOf, greatestOf or pushAll take any.',
  },
];

/** @type {Ban[]} */
const namedExports = [
  {
    selector: 'ExportDefaultDeclaration',
    message: 'Export by name: one name a thing, everywhere.',
  },
];

/** @type {Ban[]} */
const belowCli = [
  {
    selector: "MemberExpression[property.name='localeCompare']",
    message: 'Compare with < and >: the order of a locale is not the same on every machine.',
  },
  {
    selector: 'MemberExpression[property.name=/^toLocale/]',
    message: 'Format with a fixed locale in src/base, or in src/cli.',
  },
  {
    selector: 'CallExpression[callee.property.name=/^(sort|toSorted)$/][arguments.length=0]',
    message: 'Give a comparator: without one, numbers are sorted as text.',
  },
  {
    selector: 'ClassDeclaration:not([superClass.name=/Error$/])',
    message: 'Write functions over plain data; classes are for errors and the event queue.',
  },
];

/** @type {Ban[]} */
const pureSteps = [
  {
    selector: ":function[async=true], AwaitExpression, NewExpression[callee.name='Promise']",
    message:
      'Below src/cli a step returns data; what waits belongs to src/cli (or to reading files).',
  },
];

/** @type {Ban[]} */
const lazyImports = [
  {
    // Bundled, a package in the older format gives a dynamic import its default export only.
    selector: 'ImportExpression[source.value=/^(?!\\.|node:|tinypool$|@resvg)/]',
    message: 'Import the package at the top of a module of ours, and that module lazily.',
  },
];

const nodeOnly = 'Only src/cli touches the process; give or return the value instead.';
const clockOnly = 'Time is a value here: take it from the experiment.';
const engineDependent = 'Its last digit may differ between engines, and here it decides events.';

/**
 * @param {Ban[][]} bans
 * @returns {['error', ...Ban[]]}
 */
const restrictSyntax = (...bans) => ['error', ...bans.flat()];

export default defineConfig(
  {
    ignores: [
      'dist/',
      'coverage/',
      'assets/rig/example/',
      '.cache/',
      'node_modules/',
      'src/base/core-globals.d.ts',
    ],
  },
  {
    files: ['**/*.{ts,tsx}', '**/*.mjs', '**/*.js', '**/*.cjs'],
    extends: [tseslint.configs.strictTypeChecked, tseslint.configs.stylisticTypeChecked],
    languageOptions: {
      parserOptions: { project: './tsconfig.lint.json', tsconfigRootDir: import.meta.dirname },
    },
    linterOptions: { reportUnusedDisableDirectives: 'error' },
    plugins: { 'eslint-comments': comments, regexp },
    rules: {
      // `== null` asks for null and undefined at once.
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      'eslint-comments/require-description': ['error', { ignore: ['eslint-enable'] }],
      'eslint-comments/no-unlimited-disable': 'error',
      'max-lines': ['error', 500],
      'max-lines-per-function': ['error', 70],
      'max-params': ['error', 4],
      // Whatever a person gives may be a million characters long: no expression may take their square.
      'regexp/no-super-linear-backtracking': ['error', { report: 'potential' }],
      'regexp/no-super-linear-move': ['error', { report: 'potential', ignorePartial: false }],
      'no-restricted-syntax': restrictSyntax(everywhere, namedExports),
      '@typescript-eslint/ban-ts-comment': [
        'error',
        { 'ts-expect-error': 'allow-with-description', minimumDescriptionLength: 10 },
      ],
      '@typescript-eslint/consistent-type-assertions': ['error', { assertionStyle: 'never' }],
      '@typescript-eslint/consistent-type-definitions': ['error', 'interface'],
      '@typescript-eslint/consistent-type-exports': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-confusing-void-expression': ['error', { ignoreArrowShorthand: true }],
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
      // There are no enums, and classes are for errors and the queue: what looks for their misuse takes a fifth of the time.
      '@typescript-eslint/no-unsafe-enum-assignment': 'off',
      '@typescript-eslint/no-unsafe-enum-comparison': 'off',
      '@typescript-eslint/no-unsafe-class-instance-assignment': 'off',
      '@typescript-eslint/no-generated-empty-object-type': 'off',
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { requireDefaultForNonUnion: true },
      ],
    },
  },
  {
    files: ['src/cli/**/*.{ts,tsx}'],
    rules: {
      'no-restricted-syntax': restrictSyntax(everywhere, longLists, namedExports, lazyImports),
    },
  },
  {
    files: ['src/**/*.{ts,tsx}'],
    ignores: ['src/cli/**'],
    rules: {
      'no-restricted-globals': [
        'error',
        ...['process', 'console', 'Buffer', 'require'].map((name) => ({
          name,
          message: nodeOnly,
        })),
        ...['Date', 'performance', 'setTimeout', 'setInterval', 'setImmediate'].map((name) => ({
          name,
          message: clockOnly,
        })),
      ],
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'Open a named stream: randomStream().' },
        { object: 'globalThis', message: 'Name what is used, so that the bans can see it.' },
      ],
      'no-restricted-syntax': restrictSyntax(
        everywhere,
        longLists,
        namedExports,
        belowCli,
        pureSteps,
      ),
    },
  },
  {
    // Where nothing waits, by the bans on async, await and Promise, no promise is misused: looking for it takes a sixth of the time.
    files: ['src/**/*.{ts,tsx}'],
    ignores: ['src/cli/**', 'src/scenarios/**'],
    rules: { '@typescript-eslint/no-misused-promises': 'off' },
  },
  {
    // Logs are read as streams, which wait.
    files: ['src/scenarios/**/*.ts'],
    rules: {
      'no-restricted-syntax': restrictSyntax(everywhere, longLists, namedExports, belowCli),
    },
  },
  {
    files: ['src/sim/*queue.ts'],
    rules: {
      'no-restricted-syntax': restrictSyntax(
        everywhere,
        namedExports,
        belowCli.filter(({ selector }) => !selector.startsWith('ClassDeclaration')),
        pureSteps,
      ),
    },
  },
  {
    files: ['src/{base,machine,world,sim,verdict}/**/*.ts'],
    rules: {
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'Open a named stream: randomStream().' },
        { object: 'globalThis', message: 'Name what is used, so that the bans can see it.' },
        ...['log', 'log2', 'log10', 'log1p', 'exp', 'expm1', 'pow', 'cbrt', 'hypot'].map(
          (property) => ({ object: 'Math', property, message: engineDependent }),
        ),
        ...['sin', 'cos', 'tan', 'sinh', 'cosh', 'tanh', 'atan', 'atan2'].map((property) => ({
          object: 'Math',
          property,
          message: engineDependent,
        })),
      ],
    },
  },
  {
    // The two places where a plain value is given its type: branded numbers, and text that was checked.
    files: ['src/base/units.ts', '**/*decode*.ts'],
    rules: { '@typescript-eslint/consistent-type-assertions': 'off' },
  },
  {
    // What never reaches a user is linted without types: half of the lint's time went there. The compiler checks it as strictly as src,
    // and biome.jsonc looks for promises that nobody waits for.
    files: ['tests/**', 'bench/**', 'scripts/**', '*.js', '*.cjs', '.*.cjs', '*.config.ts'],
    extends: [tseslint.configs.disableTypeChecked],
  },
  {
    // A describe block is a folder, not a function.
    files: ['tests/**/*.ts'],
    rules: {
      'max-lines-per-function': 'off',
      // What they read is what we printed.
      'regexp/no-super-linear-backtracking': 'off',
      'regexp/no-super-linear-move': 'off',
    },
  },
  {
    // Tools want their settings by default export.
    files: ['scripts/**/*.mjs', '*.js', '*.cjs', '.*.cjs', '*.config.ts'],
    rules: {
      'no-restricted-syntax': restrictSyntax(everywhere),
      '@typescript-eslint/no-require-imports': 'off',
    },
  },
  {
    // Declarations for a package without its own follow that package's shape.
    files: ['**/*.d.ts'],
    rules: { 'no-restricted-syntax': restrictSyntax(everywhere) },
  },
);
