// The package as its users get it: packed, installed in an empty folder elsewhere, every command run from there, links
// followed, and its types and arbitraries used beside another fast-check.
import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { writeDeclarations } from './build.mjs';
import { brokenLinks, oldestFastCheck, wrongBesideOthers } from './support/package-checks.mjs';
import { runNode, runNpm } from './support/process.mjs';
import { ensureBuilt, ensureInstalled, root } from './support/set-up.mjs';

/** Each command with the status it ends with, and what it writes. @type {readonly [string, number, string?][]} */
const commands = [
  ['--version', 0],
  ['init store', 0, 'store/watch.yaml'],
  ['replay store/first-scenario.yaml -c store/watch.yaml', 0],
  ['replay doors.csv -c store/watch.yaml', 0],
  ['suite store --junit suite.xml', 0, 'suite.xml'],
  ['hunt -c store/watch.yaml --runs 500 --seed 1 -o found.yaml', 1, 'found.yaml'],
  ['chart store/first-scenario.yaml -c store/watch.yaml -o first.png', 0, 'first.png'],
  ['bounds -c store/watch.yaml --certificate sure.json', 0, 'sure.json'],
  ['verify sure.json -c store/watch.yaml', 0],
  ['estimate -c store/watch.yaml --profile goose-house --years 60 --jobs 2', 0],
  [
    'estimate -c store/watch.yaml --profile seed-bank --years 2 --shard 1/1 -o part.json',
    0,
    'part.json',
  ],
  ['merge part.json', 0],
  ['profile doors.csv', 0],
  ['battery -c store/watch.yaml --chart battery.svg', 0, 'battery.svg'],
  ['margin -c store/watch.yaml --start 1C --outside 18C --limit 5C --tau-open 5h --response 5m', 0],
  ['tune -c store/watch.yaml --profile seed-bank --interval 5m --years 2', 0],
  ['compare doors.csv --device-log device.csv -c store/watch.yaml', 1],
  ['drill -c plain.yaml --short -o drill.html', 0, 'drill.html'],
  ['completion bash', 0],
  ['report store/first-scenario.yaml -c store/watch.yaml -o report.html', 0, 'report.html'],
  ['planner -o planner.html', 0, 'planner.html'],
  ['emit c -c store/watch.yaml -o .', 0, 'watch.c'],
  ['emit diagram -c store/watch.yaml -o states.png', 0, 'states.png'],
  ['rig watch_rig.c store/first-scenario.yaml -c store/watch.yaml', 0],
];

const doors = `time,state
2026-05-08T06:02:00Z,open
2026-05-08T06:15:00Z,shut
`;
/** It reads the door open three times, and sends nothing. */
const device = `time,event,value
2026-05-08T06:02:00Z,power-on,
2026-05-08T06:02:00.4Z,check,open
2026-05-08T06:05:00.8Z,check,open
2026-05-08T06:08:01.2Z,check,open
`;

/** Its drill is soon made. */
const plain = `watch: { checkInterval: 1m, escalationThreshold: 1, afterAlert: hold-until-reset, alertCooldown: 0s }
device: { reset: { button: keeps } }
`;

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
  writeFileSync(path.join(home, 'doors.csv'), doors);
  writeFileSync(path.join(home, 'device.csv'), device);
  writeFileSync(path.join(home, 'plain.yaml'), plain);
  const packages = [archive, `fast-check@${oldestFastCheck}`];
  const install = ['install', '--no-audit', '--no-fund', '--prefer-offline', ...packages];
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
  const elsewhere = [
    ...brokenLinks(path.join(home, 'node_modules', 'dozewatch')),
    ...(await wrongBesideOthers(home)),
  ];
  failed += elsewhere.length;
  for (const words of elsewhere) console.log(words);
  console.log(
    failed === 0
      ? `pack: all ${commands.length} commands, links and types are as they should be`
      : `pack: ${failed} things are not as they should be`,
  );
  return failed;
}

await ensureInstalled();
await ensureBuilt();
await writeDeclarations();
const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-pack-'));
try {
  process.exitCode = (await tryIn(folder)) === 0 ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
