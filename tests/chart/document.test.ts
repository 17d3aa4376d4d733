import { describe, expect, it } from 'vitest';
import { timelineChart } from '../../src/chart/index.js';
import { experimentOf } from '../support/experiments.js';
import {
  type CaseSettings,
  chartCase,
  dayMs,
  draw,
  hourMs,
  minuteMs,
  printed,
  takeApart,
  titleOf,
} from './drawn.js';

function weekWith(settings: CaseSettings = {}) {
  const experiment = experimentOf({
    lengthMs: 7 * dayMs,
    openings: [
      [dayMs + 9 * hourMs, dayMs + 9 * hourMs + 45_000],
      [2 * dayMs + 10 * hourMs, 2 * dayMs + 10 * hourMs + 20 * minuteMs],
    ],
  });
  return chartCase(experiment, settings);
}

describe('the document of a chart', () => {
  it('is one SVG document that names and describes itself to people who hear it', () => {
    const all = draw(weekWith());
    const [root] = all;
    expect(root?.name).toBe('svg');
    expect(root?.attributes['xmlns']).toBe('http://www.w3.org/2000/svg');
    expect(root?.attributes['role']).toBe('img');
    const byId = (id: string) => all.find(({ attributes }) => attributes['id'] === id);
    const named = (root?.attributes['aria-labelledby'] ?? '').split(' ').map(byId);
    expect(named.map((element) => element?.name)).toEqual(['title', 'desc']);
    expect(named[0]?.text).toBe('The cool store');
    expect(named[1]?.text).toBe(
      'Mon 4 May 2026 00:00 to Sun 10 May 2026 24:00 (7 d) · Europe/Berlin, UTC+02:00. ' +
        'Of 1 leave-open, 1 was reported in time, 0 were missed. 0 false alarms. ' +
        'Worst detection latency 4 min 48 s.',
    );
  });

  it('states the verdict in figures', () => {
    const words = printed(draw(weekWith()));
    const figure = (name: string) => words[words.indexOf(name) + 1];
    expect(figure('leave-opens')).toBe('1');
    expect(figure('reported')).toBe('1');
    expect(figure('late')).toBe('0');
    expect(figure('missed')).toBe('0');
    expect(figure('false alarms')).toBe('0');
    expect(figure('worst detection latency')).toBe('4 min 48 s');
  });

  it('is the same to the byte every time', () => {
    expect(timelineChart(weekWith())).toBe(timelineChart(weekWith()));
  });

  it.each([
    ['a script', '<script>alert("x")</script> & \'more\''],
    ['a control character', 'bell\u0007 and start\u0001 of heading'],
    ['a lone half of a surrogate pair', 'half \ud83d of a pair \udc00'],
    ['a non-character', 'end \uffff of plane \ufffe'],
    ['a comment and a CDATA section', '<!-- --> ]]> <![CDATA[ x ]]>'],
    ['an overriding direction', 'abc \u202e fed'],
  ])('takes %s in names, files and notes as mere text', (_, hostile) => {
    const svg = timelineChart({
      ...weekWith({ name: hostile, file: hostile, notes: [[1, hostile]] }),
      options: {
        explanations: [
          {
            subject: { kind: 'opening', index: 1 },
            sentence: hostile,
            cause: hostile,
            checksMs: [],
          },
        ],
      },
    });
    const all = takeApart(svg);
    expect(all.filter(({ name }) => name === 'script')).toEqual([]);
    const forbidden = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u202e\ud800-\udfff\ufffe\uffff]/u;
    expect(forbidden.exec(svg)).toBeNull();
    const title = all.find(({ attributes }) => attributes['id'] === 'dw-title');
    expect(title?.text.length).toBe(hostile.length);
    expect(title?.text.startsWith(hostile.slice(0, 4))).toBe(true);
  });

  it('keeps its own look to itself: every class and id starts with its prefix', () => {
    for (const { classes, attributes } of draw(weekWith())) {
      for (const name of classes) expect(name).toMatch(/^(dw|dw-[a-z-]+)?$/u);
      expect(attributes['id'] ?? 'dw-').toMatch(/^dw-/u);
    }
  });

  it('is as wide as asked for, within reason', () => {
    const width = (widthPx?: number) => draw(weekWith(), { widthPx })[0]?.attributes['width'];
    expect([width(), width(700), width(10), width(1e9)]).toEqual(['1120', '700', '560', '4000']);
  });

  it('wears another title and a dark theme on request', () => {
    const all = draw(weekWith(), { title: 'Hatch, north side', theme: 'dark' });
    expect(all.find(({ attributes }) => attributes['id'] === 'dw-title')?.text).toBe(
      'Hatch, north side',
    );
    expect(all.find(({ name }) => name === 'style')?.text).toContain('.dw-paper{fill:#10161c}');
  });

  it('cuts a name that is too long and keeps the whole of it for the ear', () => {
    const name = 'the second door of the drying room '.repeat(20).trim();
    const all = draw(weekWith({ name }));
    expect(all.find(({ attributes }) => attributes['id'] === 'dw-title')?.text).toBe(name);
    const titleLines = all.filter(
      ({ name: tag, attributes }) => tag === 'text' && attributes['font-size'] === '22',
    );
    expect(titleLines[1]?.text.endsWith('…')).toBe(true);
  });

  it('says in words that nothing happened', () => {
    const all = draw(chartCase(experimentOf({ lengthMs: 7 * dayMs })));
    expect(printed(all)).toContain('The door stayed shut from the first to the last instant.');
  });

  it('refuses a verdict on another timeline', () => {
    const week = weekWith();
    const other = chartCase(experimentOf({ lengthMs: dayMs }));
    expect(() => timelineChart({ ...week, verdict: other.verdict })).toThrow(
      'the verdict is on this trace and timeline',
    );
  });

  it('gives every mark of an alert or a leave-open a title', () => {
    const all = draw(weekWith());
    const marks = all.filter(({ classes }) => classes.includes('dw-reported'));
    expect(marks.map(titleOf)).toContain(
      'Leave-open, reported: Wed 6 May 10:00:00 to Wed 6 May 10:20:00, 20 min; reported after 4 min 48 s',
    );
  });
});
