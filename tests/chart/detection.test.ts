// The picture of bounds: that its marks stand where the numbers are, and that nothing in it is nonsense.
import { scaleLinear } from 'd3-scale';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Bounds, Curve } from '../../src/bounds/index.js';
import { type Flag, placeFlags } from '../../src/chart/detection/flags.js';
import { detectionChart } from '../../src/chart/index.js';
import { textWidth } from '../../src/chart/text.js';
import { plainBounds, silentBounds, watchFileOf } from '../support/bounds-answers.js';
import { type DrawnElement, marks, ofClass, printed, takeApart, titleOf } from './drawn.js';

const nonsense = /NaN|Infinity|undefined|null|\[object/u;

function drawing(bounds: Bounds, watch = 'judge: { leaveOpenAfter: 5m }'): readonly DrawnElement[] {
  return takeApart(
    detectionChart({ bounds, watchFile: watchFileOf(watch), file: 'cool-store.yaml' }),
  );
}

function pathPoints({ attributes }: DrawnElement): readonly (readonly [number, number])[] {
  const path = attributes['d'] ?? '';
  return Array.from(path.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/gu), ([, x, y]) => [
    Number(x),
    Number(y),
  ]);
}

describe('the picture of bounds', () => {
  it('is one SVG document that names and describes itself to people who hear it', () => {
    const all = drawing(plainBounds());
    const byId = (id: string) => all.find(({ attributes }) => attributes['id'] === id)?.text;
    expect(byId('dw-title')).toBe('What you can rely on with cool-store.yaml');
    expect(byId('dw-desc')).toBe(
      'At rest, a single opening of up to 3 min never raises an alert (several close together may); one of 6 min 1 s or more is always reported. ' +
        'The alert comes 3 min 4 s to 6 min 5 s after the opening began. ' +
        'Left open means 5 min or longer.',
    );
  });

  it('states the chance at the length asked for, and the bounds, in figures', () => {
    const words = printed(drawing(plainBounds()));
    const figure = (name: string) => words[words.indexOf(name) + 1];
    // Two thirds of the grey band: (300 s − 180.4 s) / 180.4 s = 66.297 %, rounded down.
    expect(figure('reported, at 5 min open')).toBe('66.2 %');
    // Rounded so that they stay true: up, down, down, up.
    expect(figure('sure from')).toBe('6 min 1 s');
    expect(figure('quiet up to')).toBe('3 min');
    expect(figure('best latency')).toBe('3 min 4 s');
    expect(figure('worst latency')).toBe('6 min 5 s');
  });

  it('draws the curve through its breakpoints, and the grey band between them', () => {
    const all = drawing(plainBounds());
    const [curve] = ofClass(all, 'curve').filter((element) => titleOf(element) !== undefined);
    const [start, rise, sure, end] = curve === undefined ? [] : pathPoints(curve);
    expect(start).toEqual([0, 210]);
    expect(rise?.[1]).toBe(210);
    expect(sure?.[1]).toBe(0);
    expect(end?.[1]).toBe(0);
    const scale = (rise?.[0] ?? 0) / 180_400;
    expect(sure?.[0]).toBeCloseTo(360_800 * scale, 0);
    const [band] = marks(all, 'grey-band');
    expect(Number(band?.attributes['x'])).toBeCloseTo(180_400 * scale, 0);
    expect(Number(band?.attributes['width'])).toBeCloseTo(180_400 * scale, 0);
    expect(printed(all)).toContain('grey band 3 min');
  });

  it('marks what is missed and what is a false alarm, and only where there is such a thing', () => {
    const kinds = (watch: string) => {
      const all = drawing(plainBounds(), watch);
      return ['missed', 'false-share', 'told'].map((kind) => marks(all, kind).length);
    };
    expect(kinds('judge: { leaveOpenAfter: 5m }')).toEqual([1, 1, 1]);
    expect(kinds('judge: { leaveOpenAfter: 3m }')).toEqual([1, 0, 1]);
    expect(kinds('judge: { leaveOpenAfter: 361s }')).toEqual([0, 1, 1]);
  });

  it('lists in its legend what appears in it, and nothing else', () => {
    const words = (watch: string) => printed(drawing(plainBounds(), watch));
    expect(words('judge: { leaveOpenAfter: 361s }')).not.toContain('leave-opens missed');
    expect(words('judge: { leaveOpenAfter: 5m }')).toContain('leave-opens missed');
    expect(printed(drawing(silentBounds()))).not.toContain('leave-opens reported');
  });

  it('gives every share of delays its bar, late ones in another fill, all of them in sum', () => {
    const all = drawing(plainBounds(), 'judge: { leaveOpenAfter: 3m, reportWithin: 6m }');
    const shareOf = (element: DrawnElement) => Number(/^[\d.]+/u.exec(titleOf(element) ?? '')?.[0]);
    const reported = marks(all, 'reported');
    const late = marks(all, 'late');
    expect(late).not.toHaveLength(0);
    const cut = new Set(reported.map(titleOf));
    const shares = [...reported, ...late.filter((bar) => !cut.has(titleOf(bar)))].map(shareOf);
    // Percent to a tenth each.
    expect(Math.abs(shares.reduce((sum, share) => sum + share, 0) - 100)).toBeLessThan(
      0.05 * shares.length + 0.01,
    );
  });

  it('draws an alert that always takes the same time as one bar', () => {
    const all = drawing(
      plainBounds({
        alwaysReportedFromMs: { atRest: 401, anyState: 401 },
        neverAlarmedUpToMs: 400,
        worstDelayMs: { atRest: 4_400, anyState: 4_400 },
        bestDelayMs: 4_400,
        detectionCurve: [
          [400, 0],
          [401, 1],
        ],
        delayDistribution: [
          [4_399, 0],
          [4_400, 1],
        ],
      }),
    );
    expect(marks(all, 'reported').map(titleOf)).toEqual(['100 % after 4.4 s']);
    expect(printed(all)).toContain('grey band 1 ms');
  });

  it('shows the least and the most where times vary within ranges', () => {
    const most: Curve = [
      [170_400, 0],
      [350_800, 1],
    ];
    const all = drawing(plainBounds({ detectionCurveMost: most, delayDistributionMost: most }));
    expect(ofClass(all, 'curve-most').map(titleOf)).toContain('At most');
    expect(marks(all, 'reported')).toEqual([]);
    expect(printed(all)).toContain('≥ 66.2 %');
  });

  it('calls a chance of 100 % not sure where it takes the environment away', () => {
    const wild = 'judge: { leaveOpenAfter: 361s }\nenvironment: { powerLosses: 1 }';
    const words = printed(drawing(plainBounds(), wild));
    expect(words).toContain('not sure');
    expect(words).toContain('left open from 6 min 1 s (reported: not sure)');
    expect(words.join(' ')).toContain('the curves, when nothing goes wrong');
    expect(words).not.toContain('leave-opens missed');
    const holds = { ...plainBounds().holds, leaveOpenAfter: { atRest: true, anyState: false } };
    const sure = printed(drawing(plainBounds({ holds }), 'judge: { leaveOpenAfter: 361s }'));
    expect(sure).toContain('left open from 6 min 1 s (reported: 100 %)');
  });

  it('says in words that no alert ever comes', () => {
    const words = printed(drawing(silentBounds()));
    expect(words).toContain('No alert is ever delivered.');
    expect(words).toContain('never');
    expect(words).toContain('any length');
  });

  it('marks an endless grey band as such', () => {
    const all = drawing(
      plainBounds({
        alwaysReportedFromMs: { atRest: null, anyState: null },
        worstDelayMs: { atRest: null, anyState: null },
        detectionCurve: [
          [180_400, 0],
          [360_800, 0.5],
        ],
      }),
    );
    expect(printed(all)).toContain('grey band without end');
    expect(printed(all)).toContain('no limit');
  });

  it('takes hostile names as mere text', () => {
    const file = '<script>alert("x")</script> ]]> \u0007\u202e & \ud83d';
    const svg = detectionChart({
      bounds: plainBounds(),
      watchFile: watchFileOf('watch: {}'),
      file,
    });
    const all = takeApart(svg);
    expect(all.filter(({ name }) => name === 'script')).toEqual([]);
    expect(svg).not.toMatch(/\u0007|\u202e/u);
  });

  it('heeds title, theme and width', () => {
    const options = { title: 'Hatch', theme: 'dark', widthPx: 700 } as const;
    const given = { bounds: plainBounds(), watchFile: watchFileOf('watch: {}'), file: 'a.yaml' };
    const all = takeApart(detectionChart({ ...given, options }));
    expect(all[0]?.attributes['width']).toBe('700');
    expect(printed(all)).toContain('Hatch');
    expect(detectionChart({ ...given, options })).toBe(detectionChart({ ...given, options }));
  });
});

const times = fc.integer({ min: 1, max: 2_592_000_000 });

/** A rising curve with a few breakpoints. */
const curves: fc.Arbitrary<Curve> = fc
  .array(fc.tuple(times, fc.double({ min: 0, max: 1, noNaN: true })), { maxLength: 6 })
  .map((points) => {
    const ms = points.map(([at]) => at).sort((a, b) => a - b);
    const shares = points.map(([, share]) => share).sort((a, b) => a - b);
    return ms.map((at, index) => [at, shares[index] ?? 1] as const);
  });

describe('the flags of a plot', () => {
  it('have their words at their lines, inside the plot, and apart from words of the same row', () => {
    const flag = fc.record({
      ms: fc.integer({ min: 0, max: 1_000 }),
      words: fc.string({ minLength: 1, maxLength: 30 }),
      look: fc.constantFrom('strong', 'missed', 'late', 'soft'),
    });
    const wordsOf = ({ words, look }: Flag) =>
      textWidth(words, { sizePx: 11, bold: look !== 'soft' });
    fc.assert(
      fc.property(fc.array(flag, { maxLength: 6 }), (flags) => {
        const placed = placeFlags(flags, scaleLinear([0, 1_000], [0, 600]), 600);
        expect(placed).toHaveLength(flags.length);
        for (const one of placed) {
          const toX = one.wordsX + wordsOf(one);
          expect(one.wordsX).toBeGreaterThanOrEqual(0);
          expect(toX).toBeLessThanOrEqual(600.001);
          expect(one.x).toBeGreaterThanOrEqual(one.wordsX - 6);
          expect(one.x).toBeLessThanOrEqual(toX + 6);
          const inRow = placed.filter((other) => other !== one && other.row === one.row);
          for (const other of inRow) {
            const apart = other.wordsX > toX || other.wordsX + wordsOf(other) < one.wordsX;
            expect(apart).toBe(true);
          }
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe('any bounds', () => {
  it('draw a well-formed picture without nonsense in it', () => {
    const limit = fc.option(times);
    const either = fc.record({ atRest: limit, anyState: limit });
    const any = fc.record({
      alwaysReportedFromMs: either,
      neverAlarmedUpToMs: limit,
      worstDelayMs: either,
      bestDelayMs: limit,
      detectionCurve: curves,
      detectionCurveMost: fc.option(curves),
      delayDistribution: curves,
      delayDistributionMost: fc.option(curves),
    });
    const judges = fc.record({
      leaveOpenAfter: times,
      reportWithin: fc.option(times),
      quietUpTo: fc.option(times),
    });
    fc.assert(
      fc.property(any, judges, fc.integer({ min: 300, max: 2_000 }), (bounds, judge, widthPx) => {
        const asked = Object.entries(judge)
          .filter(([, ms]) => ms !== null)
          .map(([key, ms]) => `${key}: ${String(ms)}ms`);
        const svg = detectionChart({
          bounds: plainBounds(bounds),
          watchFile: watchFileOf(`judge: { ${asked.join(', ')} }`),
          file: 'any.yaml',
          options: { widthPx },
        });
        expect(nonsense.exec(svg)).toBeNull();
        takeApart(svg);
      }),
      { numRuns: 60 },
    );
  });
});
