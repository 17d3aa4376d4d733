// Runs TypeScript of this tree from a script: bundled the way it ships, with packages left where they are.
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { cacheDir, root } from './set-up.mjs';

/**
 * Bundles one source file and imports the result.
 * @param {string} file relative to the project's root
 * @returns {Promise<Record<string, unknown>>} what the module exports
 */
export async function importTypeScript(file) {
  const outfile = path.join(cacheDir, 'run', `${file.replaceAll(/[/\\]/g, '-')}.mjs`);
  await build({
    absWorkingDir: root,
    entryPoints: [file],
    outfile,
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    packages: 'external',
    sourcemap: 'inline',
    logLevel: 'warning',
  });
  return import(pathToFileURL(outfile).href);
}
