// Child processes without a shell, so that quoting and paths are the same on every system.
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import path from 'node:path';
import { requireTool } from './require-tool.mjs';

/** @typedef {{ status: number, output: string }} Ended exit status (130 when interrupted) and captured text */

/**
 * Runs a program to its end.
 * @param {string} program
 * @param {readonly string[]} args
 * @param {{ capture?: boolean, quiet?: boolean, cwd?: string, env?: NodeJS.ProcessEnv }} [options]
 *   `capture` collects what it prints instead of passing it on
 * @returns {Promise<Ended>}
 */
function run(program, args, options = {}) {
  return new Promise((resolve, reject) => {
    const stream = options.capture === true ? 'pipe' : 'inherit';
    const child = spawn(program, args, {
      cwd: options.cwd,
      env: { ...process.env, ...options.env },
      stdio: ['ignore', stream, stream],
    });
    let output = '';
    for (const from of [child.stdout, child.stderr]) {
      from?.setEncoding('utf8').on('data', (/** @type {string} */ text) => {
        output += text;
      });
    }
    child.on('error', reject);
    child.on('close', (code, signal) => {
      resolve({ status: code ?? (signal === 'SIGINT' ? 130 : 1), output });
    });
  });
}

/**
 * Runs a script with this very Node.
 * @param {readonly string[]} args
 * @param {Parameters<typeof run>[2]} [options]
 */
export function runNode(args, options) {
  return run(process.execPath, args, options);
}

/**
 * Runs npm. Its own script is called with this Node where it can be found: on Windows `npm` is a
 * batch file, which cannot be started without a shell.
 * @param {readonly string[]} args
 * @param {Parameters<typeof run>[2]} [options]
 */
export function runNpm(args, options) {
  const beside = path.dirname(process.execPath);
  const script = [
    process.env['npm_execpath'] ?? '',
    path.join(beside, 'node_modules', 'npm', 'bin', 'npm-cli.js'),
    path.join(beside, '..', 'lib', 'node_modules', 'npm', 'bin', 'npm-cli.js'),
  ].find((candidate) => path.basename(candidate) === 'npm-cli.js' && existsSync(candidate));
  if (script !== undefined) return runNode([script, ...args], options);
  const npm = requireTool({
    what: 'npm',
    commands: ['npm'],
    neededFor: 'installing what dozewatch is built with',
    install: 'It comes with Node.js: install Node.js 20 or newer together with npm.',
  });
  return run(npm, args, options);
}
