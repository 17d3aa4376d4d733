// Hooks of Node's module loader, for typescript.mjs: `./name.js` finds name.ts, and what is loaded loses its types. Functions
// keep the names that they have in the text: a loader that gives each of them its name as it is made is a third slower.
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { transform } from 'esbuild';

/** @type {import('node:module').ResolveHook} */
export function resolve(specifier, context, next) {
  if (/^\.{1,2}\/.*\.js$/u.test(specifier) && context.parentURL !== undefined) {
    for (const ending of ['.ts', '.tsx']) {
      const url = new URL(specifier.replace(/\.js$/u, ending), context.parentURL);
      if (existsSync(url)) return { url: url.href, format: 'module', shortCircuit: true };
    }
  }
  return next(specifier, context);
}

/** @type {import('node:module').LoadHook} */
export async function load(url, context, next) {
  if (!/\.tsx?$/u.test(url)) return next(url, context);
  const sourcefile = fileURLToPath(url);
  const { code } = await transform(readFileSync(sourcefile, 'utf8'), {
    loader: url.endsWith('x') ? 'tsx' : 'ts',
    sourcefile,
    sourcemap: 'inline',
    // From this version on, Node knows what an import says of a JSON file.
    target: 'node20.10',
    jsx: 'automatic',
    jsxImportSource: 'preact',
  });
  return { format: 'module', source: code, shortCircuit: true };
}
