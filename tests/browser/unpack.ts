// The browser of the development packages, unpacked once into the cache of this tree: whole or not at all, so that
// neither an interrupt nor another run at the same time leaves half a program behind.
import { execFile } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';

const root = fileURLToPath(new URL('../..', import.meta.url));
const packageFolder = path.join(root, 'node_modules', '@sparticuz', 'chromium');
const cacheFolder = path.join(root, '.cache');

/** Where the browser is, once it is unpacked. */
export function browserFile(): string {
  const text = readFileSync(path.join(packageFolder, 'package.json'), 'utf8');
  const [, version = ''] = /"version": "([^"]+)"/u.exec(text) ?? [];
  return path.join(cacheFolder, `browser-${version}`, 'chromium');
}

/** Does nothing where the browser is unpacked already. */
export async function unpackBrowser(): Promise<void> {
  const folder = path.dirname(browserFile());
  if (existsSync(folder)) return;
  mkdirSync(cacheFolder, { recursive: true });
  const made = mkdtempSync(path.join(cacheFolder, 'unpacking-'));
  try {
    // The package unpacks into the folder for temporary files, and only there.
    const script = `import('@sparticuz/chromium').then((module) => module.default.executablePath())`;
    const env = { ...process.env, TMPDIR: made, TMP: made, TEMP: made };
    await promisify(execFile)(process.execPath, ['-e', script], { cwd: root, env });
    moveInto(folder, made);
  } finally {
    rmSync(made, { recursive: true, force: true });
  }
}

function moveInto(folder: string, made: string): void {
  try {
    renameSync(made, folder);
  } catch (error) {
    // Another run was quicker.
    if (!existsSync(folder)) throw error;
  }
}
