// The emitted example of firmware in the rig, against the watch that it was written from, under every kind of fault.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { ownFolder, runHere } from '../cli/run-here.js';

const tour = fileURLToPath(new URL('../../scenarios/', import.meta.url));
/** Outages, power losses, resets, stuck and chattering contacts, creeping doors; the months of generated doors left out. */
const scenarios = readdirSync(tour)
  .filter((name) => /^(?:0[2-9]|10)-.*\.yaml$/u.test(name))
  .map((name) => path.join(tour, name));

const watches = {
  'plain.yaml': 'watch: { checkInterval: 3m }\n',
  'edges.yaml':
    'watch: { checkInterval: 1h, recheckInterval: 90s, wakeOn: any-change, heartbeatInterval: 6h, clearThreshold: 2 }\n',
  'held.yaml':
    'watch: { checkInterval: 2m, wakeOn: opening, escalationThreshold: { open: 2, outOf: 3 }, afterAlert: hold-until-reset }\n',
  'patient.yaml':
    'watch: { checkInterval: 4m, cooldownEndsWhenShut: false, unsentWhenShut: drop, retry: { interval: 30s, attempts: 2 } }\n',
};

/** The compiler finds its parts by the path. */
const scene = { environment: { PATH: process.env['PATH'] ?? '' } };

/** A clearing reset in the middle of a heartbeat's interval: the next one counts from it. */
const resetDay = `name: The seed bank's drying room, reset by hand
start: 2026-04-06T06:00:00+02:00
length: 30h
door: [{ at: +9h, for: 20m }]
network: [{ down: +9h, for: 7m }]
resets: [+4h, { at: +10h, kind: watchdog }, { at: +17h, kind: software }]
`;
const heartbeats = (reset: string): string => `watch: { checkInterval: 7m, heartbeatInterval: 5h }
device: { bootTime: 1s, joinWait: 40s, reset: { ${reset} } }
`;

it.each([
  ['clears', 'button: clears, watchdog: clears, software: clears'],
  ['keeps', 'button: keeps, watchdog: keeps, software: keeps'],
  ['clears by button only', 'button: clears, watchdog: keeps, software: keeps'],
])(
  'sends its heartbeats as the watch does after a reset that %s',
  { timeout: 60_000 },
  async (_, reset) => {
    const folder = ownFolder({ 'watch.yaml': heartbeats(reset), 'day.yaml': resetDay });
    await runHere(folder, ['emit', 'c', '-c', 'watch.yaml', '-o', '.']);
    const timeline = ['day.yaml', '-c', 'watch.yaml', '--trace'];
    await runHere(folder, ['rig', 'watch_rig.c', ...timeline, 'rig.ndjson'], scene);
    await runHere(folder, ['replay', ...timeline, 'replay.ndjson']);
    /** Start, end and outcome of each heartbeat. */
    const heartbeatsIn = (file: string, pattern: RegExp): readonly string[] =>
      Array.from(
        readFileSync(path.join(folder, file), 'utf8').matchAll(pattern),
        ([, sent]) => sent ?? '',
      );
    const sent = heartbeatsIn('rig.ndjson', /"kind":"heartbeat",([^}]*)\}/gu);
    expect(sent.length).toBeGreaterThan(3);
    expect(sent).toEqual(heartbeatsIn('replay.ndjson', /"heartbeatSend":\{([^}]*)\}/gu));
  },
);

/** Reasons of a firmware have their own words, and nothing is proved of it. */
const notShared = new Set(['firmware', 'reasons', 'proved']);

it.each(Object.keys(watches))(
  'gives the verdicts of its watch in the rig: %s',
  { timeout: 60_000 },
  async (name) => {
    const folder = ownFolder(watches);
    await runHere(folder, ['emit', 'c', '-c', name, '-o', '.']);
    const rig = await runHere(
      folder,
      ['rig', 'watch_rig.c', ...scenarios, '-c', name, '--json'],
      scene,
    );
    const replay = await runHere(folder, ['replay', ...scenarios, '-c', name, '--json']);
    expect(rig.stderr, rig.stderr).toBe(replay.stderr);
    const withoutFirmware = (text: string): unknown =>
      JSON.parse(text, (key, value: unknown) => (notShared.has(key) ? undefined : value));
    expect(withoutFirmware(rig.stdout)).toEqual(withoutFirmware(replay.stdout));
    expect(scenarios.length).toBe(9);
  },
);
