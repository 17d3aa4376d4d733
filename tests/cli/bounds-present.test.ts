// The report of bounds for what is rare: nothing sure, nothing known, a blind band, a state that is never reported.

import { describe, expect, it } from 'vitest';
import type { Bounds } from '../../src/bounds/index.js';
import { boundsComparison } from '../../src/cli/bounds/comparison.js';
import { boundsReport } from '../../src/cli/bounds/report.js';
import { paint } from '../../src/cli/layout/paint.js';
import { allSettings, calmEnvironment } from '../../src/model/index.js';
import { boundValues } from '../../src/scenarios/index.js';
import {
  allHolds,
  type BoundsView,
  differingSettings,
  seconds,
  settingTexts,
  sheetRows,
} from '../../src/wording/index.js';
import { plainBounds, silentBounds, watchFileOf } from '../support/bounds-answers.js';

function viewOf(bounds: Bounds, watch = 'watch: {}'): BoundsView {
  return {
    watchName: 'watch.yaml',
    overrides: [],
    watchFile: watchFileOf(watch),
    bounds,
    isJudged: true,
  };
}

function reportOf(view: BoundsView): string {
  return Array.from(boundsReport(view, 100, paint(false))).join('');
}

const notFoundOut = { atRest: null, anyState: null };
const unknownBounds = plainBounds({
  alwaysReportedFromMs: notFoundOut,
  neverAlarmedUpToMs: null,
  worstDelayMs: notFoundOut,
  bestDelayMs: null,
  holds: { leaveOpenAfter: notFoundOut, reportWithin: notFoundOut, quietUpTo: notFoundOut },
  unknown: [
    {
      bounds: [
        'alwaysReportedFromMs.atRest',
        'alwaysReportedFromMs.anyState',
        'neverAlarmedUpToMs',
        'worstDelayMs.atRest',
        'worstDelayMs.anyState',
        'bestDelayMs',
        'unreportable',
        'aliasing',
      ],
      mostStates: 10,
      sentence: 'the search met more than 10 states and stopped',
    },
  ],
});

describe('a report of bounds', () => {
  it('claims nothing that the search could not find out', () => {
    const text = reportOf(viewOf(unknownBounds));
    expect(text).toMatch(
      /^watch\.yaml: the search stopped before it was known whether the requirement is met\.\n/u,
    );
    for (const symbol of ['D', 'Q', 'L max', 'L min', 'A']) {
      expect(text).toMatch(new RegExp(`^ {2}${symbol} +unknown`, 'mu'));
    }
    expect(text).toMatch(/^ {2}leaveOpenAfter: .* unknown +unknown$/mu);
    expect(text).toContain('  - The search met more than 10 states and stopped.\n');
    expect(text).not.toMatch(/no limit|any length|^ {2}A +none/mu);
    expect(text).not.toMatch(/^ {2}D .*never/mu);
    expect(allHolds(viewOf(unknownBounds), 'atRest')).toBe(false);
  });

  it('says where a bound is safe but may not be exact', () => {
    const safeLimits = [
      { bound: 'worstDelayMs.anyState', reachedMs: 1_000 },
      { bound: 'bestDelayMs', reachedMs: null },
    ] as const;
    const text = reportOf(viewOf(plainBounds({ safeLimits })));
    expect(text.replaceAll(/\s+/gu, ' ')).toMatch(
      /"worst detection latency, from any state" is never too short, but it may be too long: the run that comes nearest to it shows 1 s/u,
    );
    expect(text.replaceAll(/\s+/gu, ' ')).toMatch(
      /"best detection latency" \([^)]+\) is never too long, but it may be too short: no run was found/u,
    );
  });

  it('lists the steps after which a door is never reported', () => {
    const unreportable = {
      sentence: 'the device holds',
      stem: ['the alert is delivered', 'nobody resets it'],
      repeats: ['it goes on holding'],
    };
    const text = reportOf(viewOf(plainBounds({ unreportable })));
    expect(text).toMatch(/^ {2}U +– +yes$/mu);
    expect(text).toContain(
      'Never reported\n  The device holds.\n  - the alert is delivered\n  - nobody resets it\n' +
        '  and from then on, again and again:\n  - it goes on holding\n',
    );
  });

  it('gives the blind band in mm', () => {
    const bounds = plainBounds({ blindBandMm: { closing: null, creeping: [2, 12.5] } });
    const text = reportOf(viewOf(bounds));
    expect(text).toMatch(/^ {2}B closing +none +– +mm$/mu);
    expect(text).toMatch(/^ {2}B creeping +2 to 12\.5 +– +mm$/mu);
  });

  it('says of a watch that never alerts that it never does', () => {
    const text = reportOf(viewOf(silentBounds()));
    expect(text).toMatch(/^ {2}D +never +never +s$/mu);
    expect(text).toMatch(/^ {2}Q +any length +– +s$/mu);
    expect(text).toMatch(/^ {2}L max +no limit +no limit +s$/mu);
  });

  it('shows what aliases', () => {
    const aliasing = { openings: 2, withinMs: 180_400, sentence: '2 brief openings are enough' };
    const text = reportOf(viewOf(plainBounds({ aliasing })));
    expect(text).toMatch(/^ {2}A +2 +– +openings\n +aliasing: .* within 3 min 0\.4 s$/mu);
    expect(text).toContain('  - 2 brief openings are enough.\n');
  });

  it('obeys no control character of a file name', () => {
    const view = { ...viewOf(plainBounds()), watchName: 'a\u001b[2J\u202e.yaml' };
    expect(reportOf(view)).not.toMatch(/[^\P{Cc}\n]|\p{Bidi_Control}/u);
    const both = Array.from(boundsComparison([view, view], 100, paint(false))).join('');
    expect(both).not.toMatch(/[^\P{Cc}\n]|\p{Bidi_Control}/u);
  });
});

describe('the parts of a report of bounds', () => {
  it('give seconds exactly', () => {
    expect([0, 1, 999, 1_000, 360_800, 2_592_000_000].map(seconds)).toEqual([
      '0.000',
      '0.001',
      '0.999',
      '1.000',
      '360.800',
      '2,592,000.000',
    ]);
  });

  it('give the grey band as the difference of D and Q, where there are both', () => {
    const band = (bounds: Bounds) =>
      sheetRows(bounds, calmEnvironment).find(({ symbol }) => symbol === 'D − Q');
    expect(band(plainBounds())?.atRest).toBe('180.400');
    expect(band(silentBounds())?.atRest).toBe('–');
  });

  it('name every setting that bounds depend on, in words', () => {
    const texts = settingTexts(
      watchFileOf(`watch: { escalationThreshold: { open: 2, outOf: 3 }, clearThreshold: 2 }
device: { connectTime: { min: 2s, max: 8s }, clockError: { min: -2%, max: 0.5% } }
contact: { operateGap: 8mm, releaseGap: 12mm }
environment: { longestOutage: 1h, powerLosses: 1, resets: 2, longestChatter: 30s }
`),
    );
    const text = (wanted: string) => texts.find(({ key }) => key === wanted)?.text;
    expect(text('escalationThreshold')).toBe('2 of 3');
    expect(text('retry.interval')).toBe('1 min');
    expect(text('retry.attempts')).toBe('5');
    expect(text('connectTime')).toBe('2 s to 8 s');
    expect(text('clockError')).toBe('−2 % to 0.5 %');
    expect(text('operateGap')).toBe('8 mm');
    expect(text('releaseGap')).toBe('12 mm');
    expect(text('bounceTime')).toBe('1 ms');
    expect(text('reportWithin')).toBe('not required');
    expect(text('longestOutage')).toBe('1 h');
    expect(text('resets')).toBe('2');
    expect(text('reset')).toBe('not given');
  });

  it('list a section that is as if it were not there in one line', () => {
    const texts = settingTexts(watchFileOf('watch: {}'));
    const of = (keys: readonly string[]) => texts.filter(({ key }) => keys.includes(key));
    expect(of(['lowBattery', 'contact', 'environment', 'operateGap', 'outages'])).toEqual([
      { key: 'lowBattery', text: 'off' },
      { key: 'contact', text: 'ideal: it reads open exactly while the door is open' },
      { key: 'environment', text: 'no faults allowed for' },
    ]);
  });

  it('carry every setting on which bounds depend, as the table has it', () => {
    const sections = ['watch', 'device', 'judge', 'contact', 'door', 'environment'];
    const wanted = allSettings.filter(({ path: [section = ''] }) => sections.includes(section));
    const carried = boundValues(watchFileOf('watch: {}')).map(({ setting }) => setting.key);
    expect(carried.toSorted()).toEqual(wanted.map(({ key }) => key).toSorted());
  });

  it('find every setting in which two files differ', () => {
    const differing = (one: string, other: string) =>
      differingSettings([watchFileOf(one), watchFileOf(other)]).map(({ key, texts }) => [
        key,
        ...texts,
      ]);
    expect(
      differing('device: { reset: { button: keeps } }', 'watch: { lowBattery: { at: 20% } }'),
    ).toEqual([
      ['lowBattery.at', 'off', '20 %'],
      ['lowBattery.repeat', 'off', '1 d'],
      ['reset.button', 'keeps', 'not given'],
    ]);
    expect(differing('contact: { operateGap: 8mm, releaseGap: 12mm }', '{}')).toEqual([
      ['operateGap', '8 mm', 'ideal: it reads open exactly while the door is open'],
      ['releaseGap', '12 mm', 'ideal: it reads open exactly while the door is open'],
      ['bounceTime', '1 ms', 'ideal: it reads open exactly while the door is open'],
    ]);
    // Another unit, the same value.
    expect(differing('watch: { checkInterval: 120s }', 'watch: { checkInterval: 2m }')).toEqual([]);
  });
});
