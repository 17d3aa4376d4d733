// Files that a person brings to the planner, and openings drawn by hand.
import { describe, expect, it } from 'vitest';
import { initialState, planning, withFile } from '../../src/planner/index.js';

const day = (door: string) => `name: A day\nlength: 1d\ndoor: [${door}]\n`;

function openingsOf(door: string, drawn: readonly (readonly [number, number])[]) {
  const taken = withFile(initialState, 'day.yaml', day(door));
  if (!taken.ok) throw new Error('the scenario has no errors');
  const made = planning()({ ...taken.value, drawn });
  if (!made.ok) throw new Error('a plan follows from it');
  const { fromMs, toMs } = made.plan.scene.timeline.world.openings;
  return Array.from(fromMs, (from, index) => [from, toMs[index]]);
}

const minutes = (from: number, to: number) => [from * 60_000, to * 60_000] as const;

describe('a file brought to the planner', () => {
  it('fills the fields, or takes the place of the door', () => {
    const watch = withFile(initialState, 'watch.yaml', 'watch: { checkInterval: 5m }\n');
    expect(watch.ok && watch.value.set['watch.checkInterval']).toBe('5m');
    expect(watch.ok && watch.value.watchName).toBe('watch.yaml');
    const log = withFile(
      initialState,
      'doors.csv',
      'time,state\n2026-05-08T06:00:00Z,open\n2026-05-08T06:20:00Z,shut\n',
    );
    expect(log.ok && log.value.source.kind).toBe('log');
  });

  it('has its own name in warnings, or its field has', () => {
    const text = 'watch: { checkInterval: 2h }\njudge: { leaveOpenAfter: 5h }\n';
    const taken = withFile(initialState, 'north door.yaml', text);
    const made = planning()(taken.ok ? taken.value : initialState);
    if (!made.ok) throw new Error('a plan follows from it');
    const files = made.plan.warnings.map(({ source }) => source.file);
    expect(files.length).toBeGreaterThan(0);
    expect(files).not.toContain('watch.yaml');
  });

  it.each([
    ['watch.yaml', 'watch: { checkInterval: 5 }\n'],
    ['watch.json', '{ "watch": { "checkEvery": "5m" } }'],
    ['day.yaml', 'length: 1d\ndoor: [{ at: noon, for: 1m }]\n'],
    ['doors.csv', 'time,state\n2026-05-08T06:00:00Z,purple\n'],
  ])('is refused under its own name if it has errors: %s', (name, text) => {
    const taken = withFile(initialState, name, text);
    expect(taken.ok).toBe(false);
    if (!taken.ok) for (const { source } of taken.errors) expect(source.file).toBe(name);
  });
});

describe('an opening drawn by hand', () => {
  it('is one with the openings that it overlaps or touches', () => {
    const door = '{ at: +60m, for: 10m }, { at: +90m, for: 10m }';
    expect(openingsOf(door, [minutes(200, 210)])).toHaveLength(3);
    expect(openingsOf(door, [minutes(70, 80)])).toEqual([minutes(60, 80), minutes(90, 100)]);
    expect(openingsOf(door, [minutes(65, 95)])).toEqual([minutes(60, 100)]);
    expect(openingsOf(door, [minutes(200, 210), minutes(205, 230)])).toHaveLength(3);
  });
});
