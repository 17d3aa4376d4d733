// A suite's findings as text and JSON, from plain data.
import { describe, expect, it } from 'vitest';
import { paint } from '../../src/cli/layout/paint.js';
import { suiteJson } from '../../src/cli/suite/json.js';
import { suiteReport } from '../../src/cli/suite/report.js';
import { suiteCases as cases, hostileName } from './suite-cases.js';

describe('a suite for people and tools', () => {
  it('obeys no control character of a name', () => {
    const text = [...suiteReport(cases, { paint: paint(false), width: Infinity })].join('');
    expect(text).toContain('ajar/broken.yaml');
    expect(text).not.toMatch(/[^\P{Cc}\n]/u);
  });

  it('is one JSON object with counts, outcomes and what was unmet', () => {
    const found = JSON.parse(suiteJson(cases));
    expect(found).toMatchObject({
      schema: 'dozewatch/suite/1',
      total: 3,
      scenarios: [{}, {}, {}],
      passed: 1,
      failed: 1,
      errors: 1,
    });
    expect(found.scenarios[1]).toMatchObject({
      file: 'ajar/hatch.yaml',
      name: hostileName,
      outcome: 'failed',
      unmet: [{ name: 'missed', wanted: '0', got: '1' }],
      errors: [],
    });
    expect(found.scenarios[2]).toMatchObject({
      outcome: 'error',
      summary: null,
      errors: [{ code: 'unknown-key' }],
    });
  });
});
