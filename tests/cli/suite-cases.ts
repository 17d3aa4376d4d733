// Cases of a suite as plain data: one met, one not, one that cannot be read.
import type { SuiteCase } from '../../src/cli/suite/case.js';

export const summary = {
  openings: 3,
  leaveOpens: 1,
  reported: 0,
  late: 0,
  missed: 1,
  undecided: 0,
  unpowered: 0,
  unknown: 0,
  alerts: 0,
  falseAlarms: 0,
  earlyAlerts: 0,
  repeats: 0,
  checks: 480,
  worstDelayMs: null,
};

export const hostileName = 'evil \u0001\u001b[2J "<&>\' ]]> \ud800 \uffff\n冷蔵室';

export const suiteCases: readonly SuiteCase[] = [
  {
    path: 'calm.yaml',
    tookMs: 1.25,
    result: { kind: 'judged', name: 'A calm day', summary, unmet: [], expects: true, reasons: [] },
  },
  {
    path: 'ajar/hatch.yaml',
    tookMs: 2_000,
    result: {
      kind: 'judged',
      name: hostileName,
      summary,
      unmet: [{ name: 'missed', wanted: '0', got: '1' }],
      expects: true,
      reasons: ['shut 4 s before the check that would have alerted'],
    },
  },
  {
    path: 'ajar/broken.yaml',
    tookMs: 0,
    result: {
      kind: 'unreadable',
      errors: [
        {
          code: 'unknown-key',
          severity: 'error',
          source: { file: 'ajar/broken.yaml', line: 3, column: 1 },
          message: 'there is no such key',
        },
      ],
    },
  },
];
