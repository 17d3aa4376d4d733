// The package as its users get it: packed, installed in an empty folder elsewhere, and each command run from there that
// needs a file which is shipped and not bundled.
import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { runNode, runNpm } from './support/process.mjs';
import { ensureBuilt, ensureInstalled, root } from './support/set-up.mjs';

/** Each command with the status it ends with, and what it writes. @type {readonly [string, number, string?][]} */
const commands = [
  ['--version', 0],
  ['init store', 0, 'store/watch.yaml'],
  ['replay store/first-scenario.yaml -c store/watch.yaml', 0],
  ['chart store/first-scenario.yaml -c store/watch.yaml -o first.png', 0, 'first.png'],
  ['bounds -c store/watch.yaml --certificate sure.json', 1, 'sure.json'],
  ['verify sure.json -c store/watch.yaml', 0],
  ['estimate -c store/watch.yaml --profile goose-house --years 600 --jobs 2', 0],
  ['report store/first-scenario.yaml -c store/watch.yaml --out report.html', 0, 'report.html'],
  ['planner --out planner.html', 0, 'planner.html'],
  ['emit c -c store/watch.yaml', 0, 'watch.c'],
  ['rig watch_rig.c store/first-scenario.yaml -c store/watch.yaml', 0],
];

/** @param {string} folder */
async function packedInto(folder) {
  const packed = await runNpm(
    ['pack', '--silent', '--ignore-scripts', '--pack-destination', folder],
    {
      cwd: root,
      capture: true,
    },
  );
  const name = readdirSync(folder).find((file) => file.endsWith('.tgz'));
  if (packed.status !== 0 || name === undefined) throw new Error(packed.output);
  return path.join(folder, name);
}

/** @param {string} folder */
async function tryIn(folder) {
  const archive = await packedInto(folder);
  const home = mkdtempSync(path.join(folder, 'elsewhere-'));
  writeFileSync(path.join(home, 'package.json'), '{ "private": true }\n');
  const install = ['install', '--no-audit', '--no-fund', '--prefer-offline', archive];
  const installed = await runNpm(install, { cwd: home, capture: true });
  if (installed.status !== 0) throw new Error(installed.output);
  const cli = path.join(home, 'node_modules', 'dozewatch', 'dist', 'cli.js');
  let failed = 0;
  for (const [line, expected, writes] of commands) {
    const { status, output } = await runNode([cli, ...line.split(' ')], {
      cwd: home,
      capture: true,
    });
    if (status === expected && (writes === undefined || existsSync(path.join(home, writes))))
      continue;
    failed += 1;
    console.log(`dozewatch ${line}: status ${status}, expected ${expected}\n${output.trimEnd()}`);
  }
  console.log(
    `pack: ${commands.length - failed} of ${commands.length} commands ran as they should`,
  );
  return failed;
}

await ensureInstalled();
await ensureBuilt();
const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-pack-'));
try {
  process.exitCode = (await tryIn(folder)) === 0 ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
