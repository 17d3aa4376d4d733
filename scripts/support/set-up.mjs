// From a bare clone to something that runs: packages as locked, and a build of the sources as they are now.
// Both are told by content, not by time stamps, which a checkout sets as it likes. Node alone is enough here.
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { runNpm } from './process.mjs';
import { PlainError } from './require-tool.mjs';

export const root = fileURLToPath(new URL('../..', import.meta.url));
/** Scratch files of the scripts; never committed, never shipped. */
export const cacheDir = path.join(root, '.cache');

const oldestNode = 20;

/** Installs when node_modules is missing, incomplete or not what the lock file says. */
export async function ensureInstalled() {
  if (Number.parseInt(process.versions.node, 10) < oldestNode) {
    throw new PlainError(`Node.js ${oldestNode} or newer is needed; this is ${process.version}.`);
  }
  if (isInstalled()) return;
  console.error('Installing packages (npm ci) …');
  // Told outright, because NODE_ENV=production would leave out what the build needs.
  const { status } = await runNpm(['ci', '--include=dev', '--no-audit', '--no-fund'], {
    cwd: root,
  });
  if (status !== 0) {
    throw new PlainError('npm ci failed: see its words above. Is the network there?');
  }
}

/** Builds when dist is missing or was built from other sources. */
export async function ensureBuilt() {
  const sources = hashOfSources();
  if (existsSync(path.join(root, 'dist', 'cli.js')) && builtFrom() === sources) return;
  console.error('Building …');
  const { build } = await import('../build.mjs');
  try {
    await build({ types: false });
  } catch (error) {
    throw new PlainError(`The build stopped: ${firstLine(error)}`);
  }
}

/**
 * What an error says; the bundler has printed its details by then.
 * @param {unknown} error
 */
export function firstLine(error) {
  return String(error instanceof Error ? error.message : error).split('\n', 1)[0] ?? '';
}

/** What the sources are now, in one short text. */
export function hashOfSources() {
  const hash = createHash('sha256');
  const files = [
    ...['package.json', 'package-lock.json', 'scripts/build.mjs'].map((name) =>
      path.join(root, name),
    ),
    ...filesUnder(path.join(root, 'src')),
  ];
  for (const file of files) {
    hash.update(path.relative(root, file)).update('\0').update(readFileSync(file)).update('\0');
  }
  return hash.digest('hex').slice(0, 16);
}

/** @param {string} sources the hash that a finished build was made from */
export function noteBuilt(sources) {
  mkdirSync(cacheDir, { recursive: true });
  writeFileSync(buildNote(), sources);
}

function builtFrom() {
  return existsSync(buildNote()) ? readFileSync(buildNote(), 'utf8') : undefined;
}

function buildNote() {
  return path.join(cacheDir, 'built-from');
}

/**
 * Files of a folder and the folders in it, in a fixed order.
 * @param {string} folder
 * @returns {string[]}
 */
export function filesUnder(folder) {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => {
      const file = path.join(folder, entry.name);
      return entry.isDirectory() ? filesUnder(file) : [file];
    });
}

/** @typedef {{ version?: string, optional?: boolean, devOptional?: boolean, peer?: boolean }} LockEntry */

function isInstalled() {
  const installed = readLock(path.join(root, 'node_modules', '.package-lock.json'));
  const wanted = readLock(path.join(root, 'package-lock.json'));
  if (installed === undefined || wanted === undefined) return false;
  return Object.entries(wanted).every(([name, entry]) => {
    // Optional packages are those of other platforms, as a rule.
    if (name === '' || entry.optional === true || entry.devOptional === true) return true;
    return installed[name]?.version === entry.version;
  });
}

/**
 * @param {string} file
 * @returns {Record<string, LockEntry> | undefined}
 */
function readLock(file) {
  if (!existsSync(file)) return undefined;
  return JSON.parse(readFileSync(file, 'utf8')).packages;
}
