// Scenarios read and driven through a watch file, for tests.
import {
  defaultWatchFile,
  parseScenario,
  parseWatchFile,
  type Scenario,
  type Timeline,
  timelineOf,
} from '../../src/scenarios/index.js';
import { errorsOf, valueOf } from './reading.js';

export const minute = 60_000;
export const hour = 60 * minute;

export const read = (text: string): Scenario => valueOf(parseScenario(text, 'day.yaml'));
export const refused = (text: string): readonly string[] =>
  errorsOf(parseScenario(text, 'day.yaml'));
export const timeline = (text: string, watch = ''): Timeline =>
  valueOf(
    timelineOf(
      read(text),
      watch === '' ? defaultWatchFile() : valueOf(parseWatchFile(watch, 'watch.yaml')),
    ),
  );
export const pairs = ({ world }: Timeline): number[][] =>
  Array.from(world.openings.fromMs, (from, index) => [from, world.openings.toMs[index] ?? 0]);
/** A day from 06:00 at +02:00 with these entries of its door; the first is on line 4. */
export const doorOf = (...door: string[]): string =>
  [
    'name: x',
    'start: 2026-05-08T06:00+02:00',
    'door:',
    ...door.map((entry) => `  - ${entry}`),
  ].join('\n');
