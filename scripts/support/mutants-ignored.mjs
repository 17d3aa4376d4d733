// What is not changed: invariants. They never fail in a right program, so that no test can notice a weaker one, and the
// words of one that fails are for those who repair it.

/** @param {{ isCallExpression(): boolean, node: { callee?: { name?: string } } }} at a node of the syntax tree */
function isInvariant(at) {
  return at.isCallExpression() && at.node.callee?.name === 'invariant';
}

export const strykerPlugins = [
  {
    kind: 'Ignore',
    name: 'invariants',
    value: {
      /** @param {Parameters<typeof isInvariant>[0]} at */
      shouldIgnore: (at) => (isInvariant(at) ? 'an invariant' : undefined),
    },
  },
];
