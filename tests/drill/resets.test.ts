// What a drill does with resets depends on what the watch file says of one by button; and a real contact is tried at a gap.
import { describe, expect, it } from 'vitest';
import { questionOf } from '../../src/bounds/index.js';
import { drillOf } from '../../src/drill/index.js';
import { endOf, leastCover, toleranceMs, watchOf } from './at-the-door.js';

const text = `watch: { checkInterval: 1m, escalationThreshold: 2, alertCooldown: 3m }
contact: { operateGap: 8mm, releaseGap: 12mm }
`;

function drillWith(button: 'keeps' | 'clears' | null) {
  const file = { ...watchOf(text), reset: { button, watchdog: null, software: null } };
  return endOf(
    drillOf({ ...questionOf(file), toleranceMs, short: false, without: new Set() }, leastCover),
  );
}

const resetsIn = (drill: ReturnType<typeof drillWith>): number =>
  drill.steps.flatMap(({ actions }) => actions.filter(({ deed }) => deed === 'reset')).length;

describe('a drill', () => {
  it('has no step that resets the device where the file does not say what that does', () => {
    const drill = drillWith(null);
    expect(resetsIn(drill)).toBe(0);
    expect(drill.withoutResets).toBe(true);
    expect(drill.faults.untold).toContain('memory-lost-on-reset');
  });

  it('shows the mistake of losing memory in a reset where memory is kept, and only there', () => {
    const kept = drillWith('keeps');
    expect(resetsIn(kept)).toBeGreaterThan(0);
    expect(kept.faults.told).toContain('memory-lost-on-reset');
    const { told, untold } = drillWith('clears').faults;
    expect([...told, ...untold]).not.toContain('memory-lost-on-reset');
  });

  it('lets the door rest just beyond the release gap in one step with a message', () => {
    const resting = drillWith(null).steps.filter(({ restsAtMm }) => restsAtMm !== null);
    expect(resting).toMatchObject([{ restsAtMm: 14 }]);
    expect(resting[0]?.windows.length).toBeGreaterThan(0);
  });
});
