// What `dozewatch planner` offers for a log that it cannot read as it is: it has no options for logs.
import { describe, expect, it } from 'vitest';
import { filesIn, ownFolder, runHere } from './run-here.js';

const files = {
  'several.csv':
    'time,sensor,state\n2026-10-01T16:00:00Z,hatch,open\n2026-10-01T16:10:00Z,gate,open\n',
  'back.csv':
    'time,state\n2026-10-01T16:10:00Z,open\n2026-10-01T16:30:00Z,shut\n2026-10-01T16:00:00Z,open\n',
};

describe('a log that the planner cannot read', () => {
  it.each([
    ['several.csv', 'replay and chart take --where)'],
    ['back.csv', 'replay and chart take --lenient and --newest-first)'],
  ])('%s: no command line that the planner refuses', async (log, options) => {
    const folder = ownFolder(files);
    const ran = await runHere(folder, ['planner', log, '-o', 'p.html']);
    expect(ran.status).toBe(2);
    expect(ran.stderr.replaceAll(/\s+/gu, ' ')).toContain(options);
    expect(ran.stderr).not.toContain('try:');
    expect(filesIn(folder)).not.toContain('p.html');
  });
});
