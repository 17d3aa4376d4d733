// Door logs of many layouts, and with many faults, as they are read: the openings, the remarks, the errors with their places.
import { describe, expect, it } from 'vitest';
import { layoutCases } from './door-log-layouts.js';
import { brokenLogs, otherOptions } from './door-log-oddities.js';
import { isSameInPieces, outcomeOfLog } from './door-log-outcome.js';
import { expectRecorded, onOneLine, openSentences } from './recording.js';

describe('a door log', () => {
  it('is read as before in every layout and form of time', () => {
    const sentences = openSentences();
    const lines = layoutCases().flatMap(({ name, text, options }) => [
      `${name}: ${onOneLine(text.split('\n').slice(0, 2).join('\n').slice(0, 100))}`,
      `  ${outcomeOfLog(text, options, sentences)}`,
    ]);
    expectRecorded('door-logs-by-layout', [...lines, ...sentences.list()]);
  });

  it.each(Object.entries(brokenLogs))(
    'of the kind %s is read or refused as before',
    (kind, logs) => {
      const sentences = openSentences();
      const lines = logs.flatMap(({ text, options = {} }) => {
        const first = outcomeOfLog(text, options, sentences);
        expect(isSameInPieces(text, options), text).toBe(true);
        const others = otherOptions.flatMap((more) => {
          const line = outcomeOfLog(text, { ...options, ...more }, sentences);
          return line === first ? [] : [`  ${JSON.stringify(more)} ${line}`];
        });
        const given = Object.keys(options).length === 0 ? '' : ` ${JSON.stringify(options)}`;
        return [
          '',
          ...text
            .trimEnd()
            .split('\n')
            .map((line) => `| ${line}`),
          `  as it is${given}: ${first}`,
          ...others,
        ];
      });
      expectRecorded(`door-logs-${kind}`, [...lines, '', ...sentences.list()]);
    },
  );
});
