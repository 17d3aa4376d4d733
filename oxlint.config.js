// The lint, with types. The size limits, and the bans of scripts/lint/bans.mjs, are what keeps a run a value.
import { defineConfig } from 'oxlint';

const nodeOnly = 'Only src/cli touches the process; give or return the value instead.';
const clockOnly = 'Time is a value here: take it from the experiment.';
const engineDependent = 'Its last digit may differ between engines, and here it decides events.';

/** @param {readonly string[]} names */
const errors = (names) =>
  Object.fromEntries(names.map((name) => [name, /** @type {const} */ ('error')]));

/** Values whose type is not known. */
const unsafe = [
  'typescript/no-unsafe-argument',
  'typescript/no-unsafe-assignment',
  'typescript/no-unsafe-call',
  'typescript/no-unsafe-member-access',
  'typescript/no-unsafe-return',
];

const byTypes = [
  ...unsafe,
  'typescript/await-thenable',
  'typescript/consistent-type-exports',
  'typescript/dot-notation',
  'typescript/no-array-delete',
  'typescript/no-base-to-string',
  'typescript/no-deprecated',
  'typescript/no-duplicate-type-constituents',
  'typescript/no-floating-promises',
  'typescript/no-for-in-array',
  'typescript/no-implied-eval',
  'typescript/no-meaningless-void-operator',
  'typescript/no-misused-promises',
  'typescript/no-misused-spread',
  'typescript/no-mixed-enums',
  'typescript/no-redundant-type-constituents',
  'typescript/no-unnecessary-boolean-literal-compare',
  'typescript/no-unnecessary-condition',
  'typescript/no-unnecessary-template-expression',
  'typescript/no-unnecessary-type-arguments',
  'typescript/no-unnecessary-type-assertion',
  'typescript/no-unnecessary-type-conversion',
  'typescript/no-unnecessary-type-parameters',
  'typescript/no-unsafe-unary-minus',
  'typescript/no-useless-default-assignment',
  'typescript/non-nullable-type-assertion-style',
  'typescript/only-throw-error',
  'typescript/prefer-find',
  'typescript/prefer-includes',
  'typescript/prefer-nullish-coalescing',
  'typescript/prefer-optional-chain',
  'typescript/prefer-promise-reject-errors',
  'typescript/prefer-reduce-type-parameter',
  'typescript/prefer-regexp-exec',
  'typescript/prefer-return-this-type',
  'typescript/prefer-string-starts-ends-with',
  'typescript/related-getter-setter-pairs',
  'typescript/require-await',
  'typescript/unbound-method',
  'typescript/use-unknown-in-catch-callback-variable',
];

const bySyntax = [
  'no-array-constructor',
  'no-empty-function',
  'no-unused-expressions',
  'no-useless-constructor',
  'no-var',
  'prefer-const',
  'prefer-rest-params',
  'prefer-spread',
  'typescript/adjacent-overload-signatures',
  'typescript/array-type',
  'typescript/ban-tslint-comment',
  'typescript/class-literal-property-style',
  'typescript/consistent-generic-constructors',
  'typescript/consistent-indexed-object-style',
  'typescript/consistent-type-imports',
  'typescript/no-confusing-non-null-assertion',
  'typescript/no-duplicate-enum-values',
  'typescript/no-dynamic-delete',
  'typescript/no-empty-object-type',
  'typescript/no-explicit-any',
  'typescript/no-extra-non-null-assertion',
  'typescript/no-extraneous-class',
  'typescript/no-inferrable-types',
  'typescript/no-invalid-void-type',
  'typescript/no-misused-new',
  'typescript/no-namespace',
  'typescript/no-non-null-asserted-nullish-coalescing',
  'typescript/no-non-null-asserted-optional-chain',
  'typescript/no-non-null-assertion',
  'typescript/no-require-imports',
  'typescript/no-this-alias',
  'typescript/no-unnecessary-type-constraint',
  'typescript/no-unsafe-declaration-merging',
  'typescript/no-unsafe-function-type',
  'typescript/no-wrapper-object-types',
  'typescript/prefer-as-const',
  'typescript/prefer-for-of',
  'typescript/prefer-function-type',
  'typescript/prefer-literal-enum-member',
  'typescript/prefer-namespace-keyword',
  'typescript/triple-slash-reference',
  'typescript/unified-signatures',
];

const randomOrGlobal = [
  { object: 'Math', property: 'random', message: 'Open a named stream: randomStream().' },
  { object: 'globalThis', message: 'Name what is used, so that the bans can see it.' },
];

export default defineConfig({
  plugins: ['eslint', 'typescript', 'oxc'],
  jsPlugins: ['./scripts/lint/bans.mjs', 'eslint-plugin-regexp'],
  categories: { correctness: 'error' },
  options: { typeAware: true, reportUnusedDisableDirectives: 'error' },
  ignorePatterns: [
    'dist/',
    'coverage/',
    'assets/rig/example/',
    '.cache/',
    'node_modules/',
    'src/base/core-globals.d.ts',
  ],
  rules: {
    // What we print and read has control characters in it, and says where.
    'no-control-regex': 'off',
    ...errors(byTypes),
    ...errors(bySyntax),
    // `== null` asks for null and undefined at once.
    eqeqeq: ['error', 'always', { null: 'ignore' }],
    'max-lines': ['error', 500],
    'max-lines-per-function': ['error', 70],
    'max-params': ['error', 4],
    // Whatever a person gives may be a million characters long: no expression may take their square.
    'regexp/no-super-linear-backtracking': ['error', { report: 'potential' }],
    'regexp/no-super-linear-move': ['error', { report: 'potential', ignorePartial: false }],
    'dozewatch/no-default-exports': 'error',
    'dozewatch/no-enums': 'error',
    'dozewatch/no-unexplained-disable': 'error',
    'no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
    'typescript/ban-ts-comment': [
      'error',
      { 'ts-expect-error': 'allow-with-description', minimumDescriptionLength: 10 },
    ],
    'typescript/consistent-type-assertions': ['error', { assertionStyle: 'never' }],
    'typescript/consistent-type-definitions': ['error', 'interface'],
    'typescript/no-confusing-void-expression': ['error', { ignoreArrowShorthand: true }],
    'typescript/restrict-plus-operands': [
      'error',
      {
        allowAny: false,
        allowBoolean: false,
        allowNullish: false,
        allowNumberAndString: false,
        allowRegExp: false,
      },
    ],
    'typescript/restrict-template-expressions': ['error', { allowNumber: true }],
    'typescript/return-await': ['error', 'error-handling-correctness-only'],
    'typescript/switch-exhaustiveness-check': ['error', { requireDefaultForNonUnion: true }],
  },
  overrides: [
    {
      files: ['src/**/*.{ts,tsx}'],
      rules: { 'dozewatch/no-long-lists': 'error' },
    },
    {
      files: ['src/cli/**/*.{ts,tsx}'],
      rules: { 'dozewatch/no-lazy-packages': 'error' },
    },
    {
      files: ['src/**/*.{ts,tsx}'],
      excludeFiles: ['src/cli/**'],
      rules: {
        'dozewatch/no-classes': 'error',
        'dozewatch/no-locale-order': 'error',
        'dozewatch/no-waiting': 'error',
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
        'no-restricted-properties': ['error', ...randomOrGlobal],
      },
    },
    {
      // Logs are read as streams, which wait.
      files: ['src/scenarios/**/*.ts'],
      rules: { 'dozewatch/no-waiting': 'off' },
    },
    {
      files: ['src/sim/*queue.ts'],
      rules: { 'dozewatch/no-classes': 'off' },
    },
    {
      files: ['src/{base,machine,world,sim,verdict}/**/*.ts'],
      rules: {
        'no-restricted-properties': [
          'error',
          ...randomOrGlobal,
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
      rules: { 'typescript/consistent-type-assertions': 'off' },
    },
    {
      // What never reaches a user reads JSON and what packages without types give, and takes it as it is.
      files: ['tests/**', 'bench/**', 'scripts/**', '*.js', '*.cjs', '.*.cjs', '*.config.ts'],
      rules: Object.fromEntries(unsafe.map((name) => [name, /** @type {const} */ ('off')])),
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
      files: ['scripts/**/*.mjs', '*.js', '*.cjs', '.*.cjs', '*.config.ts', '**/*.d.ts'],
      rules: { 'dozewatch/no-default-exports': 'off' },
    },
    {
      files: ['scripts/**/*.mjs', '*.js', '*.cjs', '.*.cjs', '*.config.ts'],
      rules: { 'typescript/no-require-imports': 'off' },
    },
  ],
});
