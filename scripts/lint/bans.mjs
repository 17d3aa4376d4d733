// What this project never writes, as rules of the lint: each finding says what to write instead. Which folders have which ban is in
// oxlint.config.js; the determinism bans are what keeps a run a value.

/** @typedef {{ selector: string, message: string }} Ban */
/** @typedef {{ report(problem: { node?: unknown, loc?: unknown, message: string }): void, sourceCode: { getAllComments(): Comment[] } }} Context */
/** @typedef {{ value: string, loc: unknown }} Comment */

/** @param {Ban[]} bans */
const rule = (bans) => ({
  /** @param {Context} context */
  create: (context) =>
    Object.fromEntries(
      bans.map(({ selector, message }) => [
        selector,
        (/** @type {unknown} */ node) => context.report({ node, message }),
      ]),
    ),
});

const enums = rule([
  { selector: 'TSEnumDeclaration', message: 'Write a union of string literals.' },
]);

const longLists = rule([
  {
    selector: 'CallExpression[callee.property.name=/^(max|min|push|unshift)$/] > SpreadElement',
    message: 'A long list overflows the stack: leastOf, greatestOf or pushAll take any.',
  },
]);

const defaultExports = rule([
  {
    selector: 'ExportDefaultDeclaration',
    message: 'Export by name: one name a thing, everywhere.',
  },
]);

const localeOrder = rule([
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
]);

const classes = rule([
  {
    selector: 'ClassDeclaration:not([superClass.name=/Error$/])',
    message: 'Write functions over plain data; classes are for errors and the event queue.',
  },
]);

const waiting = rule([
  {
    selector: ":function[async=true], AwaitExpression, NewExpression[callee.name='Promise']",
    message:
      'Below src/cli a step returns data; what waits belongs to src/cli (or to reading files).',
  },
]);

const lazyPackages = rule([
  {
    // Bundled, a package in the older format gives a dynamic import its default export only.
    selector: 'ImportExpression[source.value=/^(?!\\.|node:|tinypool$|@resvg)/]',
    message: 'Import the package at the top of a module of ours, and that module lazily.',
  },
]);

/** A rule is turned off by its name, and with its reason: `oxlint-disable-next-line typescript/no-deprecated -- why`. */
const unexplained = {
  /** @param {Context} context */
  create: (context) => ({
    Program() {
      for (const { value, loc } of context.sourceCode.getAllComments()) {
        if (!/^\s*(?:eslint|oxlint)-disable/u.test(value)) continue;
        if (/^\s*oxlint-disable(?:-next-line|-line)? [a-z@][^\n]*? -- \S/u.test(value)) continue;
        context.report({
          loc,
          message: 'Name the rule and the reason: "oxlint-disable-next-line RULE -- why".',
        });
      }
    },
  }),
};

export default {
  meta: { name: 'dozewatch' },
  rules: {
    'no-enums': enums,
    'no-long-lists': longLists,
    'no-default-exports': defaultExports,
    'no-locale-order': localeOrder,
    'no-classes': classes,
    'no-waiting': waiting,
    'no-lazy-packages': lazyPackages,
    'no-unexplained-disable': unexplained,
  },
};
