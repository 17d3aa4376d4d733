// Files that attack their reader: each becomes one clear error with its place, and none takes long.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseScenario, parseWatchFile } from '../../src/scenarios/index.js';
import { anyText, errorsOf, valueOf } from './reading.js';

const watch = (text: string): readonly string[] => errorsOf(parseWatchFile(text, 'watch.yaml'));
const json = (text: string): readonly string[] => errorsOf(parseWatchFile(text, 'watch.json'));

const laughs = [
  'a: &a [x, x, x, x, x, x, x, x, x]',
  'b: &b [*a, *a, *a, *a, *a, *a, *a, *a, *a]',
  'c: &c [*b, *b, *b, *b, *b, *b, *b, *b, *b]',
  'watch: *c',
].join('\n');

describe('a file in YAML', () => {
  it.each([
    ['', '1:1 file-empty'],
    [' \n\t\n', '1:1 file-empty'],
    ['# only a comment\n', '1:1 file-empty'],
    ['~', '1:1 file-empty'],
    ['\ufeff', '1:1 file-empty'],
    ['watch:\n  checkInterval: 3m\n\0', '3:1 file-not-text'],
    ['\u001b[31mwatch', '1:1 file-not-text'],
    ['watch: \ufffd', '1:8 file-not-text'],
    ['PK\u0003\u0004', '1:3 file-not-text'],
    ['['.repeat(200_000), '1:41 file-too-deep'],
    ['{a: '.repeat(200_000), '1:161 file-too-deep'],
    ['- '.repeat(200_000), '1:1 file-too-deep'],
    [`a:\n${' '.repeat(500)}b: 1`, '2:1 file-too-deep'],
    ['watch: 1\n---\nwatch: 2', '2:1 yaml-several-documents'],
    ['watch:\n\tcheckInterval: 3m', '2:1 yaml-syntax'],
    ['watch: {checkInterval: 3m', '1:26 yaml-syntax'],
    ['watch: "3m', '1:11 yaml-syntax'],
    ['watch: @3m', '1:8 yaml-syntax'],
    ['watch: a: b', '1:8 yaml-syntax'],
    ['watch:\n  checkInterval:2m\n  wakeOn: timer', '2:3 yaml-syntax'],
    ['watch:\n  checkInterval: 2m\n   wakeOn: timer', '3:4 yaml-indentation'],
    ['watch:\n  checkInterval: 2m # often\n\n # note\n wakeOn: timer', '5:2 yaml-indentation'],
    ['  watch:\n    checkInterval: 2m\njudge: {}', '3:1 yaml-indentation'],
    ['name: a\n  length: 1h', '2:3 yaml-indentation'],
    ['door:\n  - at: 07:30\n   for: 40s', '3:4 yaml-indentation'],
    ['door:\n  - at 07:30 for 40s\n - at 08:00 for 1m', '3:2 yaml-indentation'],
    ['door:\n- at 07:30 for 40s\n  - at 08:00 for 1m', '3:3 yaml-indentation'],
    ['watch: !!js/function "x"', '1:8 yaml-tag'],
    ['watch: !!map {}', '1:8 yaml-tag'],
    ['watch: !x 3', '1:8 yaml-tag'],
    ['- watch', '1:1 wrong-type'],
    ['watch', '1:1 wrong-type'],
    ['42', '1:1 wrong-type'],
    ['__proto__:\n  polluted: true', '1:1 unknown-key'],
    ['{"__proto__": {"polluted": true}}', '1:2 unknown-key'],
    ['constructor: 1', '1:1 unknown-key'],
    ['toString: 1', '1:1 unknown-key'],
    ['<<: { watch: {} }', '1:1 unknown-key'],
    ['? [a]\n: 1', '1:3 yaml-key'],
    ['watch: {}\nwatch: {}', '2:1 duplicate-key'],
    ['watch: { checkInterval: 3m, checkInterval: 4m }', '1:29 duplicate-key'],
    ['watch: { checkInterval: 3m, "checkInterval": 4m }', '1:29 duplicate-key'],
  ])('is refused with its place (%#)', (text, expected) => {
    expect(watch(text)[0]).toBe(expected);
    expect(watch(text)).toHaveLength(1);
  });

  it('does not expand aliases, and has one error for all of them', () => {
    expect(watch(laughs)).toEqual([expect.stringMatching(/yaml-alias$/u)]);
  });

  it('is refused when it is enormous', () => {
    expect(watch('#'.repeat(9_000_000))).toEqual(['file-too-large']);
  });

  it('leaves no trace on other objects', () => {
    watch('__proto__: { polluted: true }');
    expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false);
  });

  it('has all its problems reported at once, in the order of its lines', () => {
    const text = [
      'watch:',
      '  chekInterval: 3m',
      '  recheckInterval: 3',
      'judge: { leaveOpenAfter: soon }',
      'door: [1]',
    ].join('\n');
    expect(watch(text)).toEqual([
      '2:3 unknown-key',
      '3:20 duration-without-unit',
      '4:26 duration-unreadable',
      '5:7 wrong-type',
    ]);
  });

  it('reads with a byte order mark, carriage returns, and quotes of both kinds', () => {
    const text = '\ufeffwatch:\r\n  checkInterval: "2m"\r\n  alertCooldown: \'1h\'\r\n';
    const file = valueOf(parseWatchFile(text, 'watch.yaml'));
    expect(file.watch).toMatchObject({ checkIntervalMs: 120_000, alertCooldownMs: 3_600_000 });
  });
});

describe('a file in JSON', () => {
  it('reads like its YAML', () => {
    const text = '{\n\t"watch": {"checkInterval": "2m"},\n\t"door": {"sealGap": 3}\n}';
    expect(valueOf(parseWatchFile(text, 'W.JSON'))).toEqual(
      valueOf(parseWatchFile('watch: { checkInterval: 2m }\ndoor: { sealGap: 3mm }', 'w.yaml')),
    );
  });

  it.each([
    ['{"watch": {},}', '1:14 json-syntax'],
    ['{"watch": }', '1:11 json-syntax'],
    ["{'watch': {}}", '1:2 json-syntax'],
    ['{watch: {}}', '1:2 json-syntax'],
    ['{"watch": {}} x', '1:15 json-syntax'],
    ['{\n  "watch": {\n    "checkInterval": 03\n  }\n}', '3:23 json-syntax'],
    ['// comment\n{}', '1:1 json-syntax'],
    ['{"watch": {}', '1:13 json-syntax'],
    ['watch: {}', '1:1 json-syntax'],
    ['{"watch": {}, "watch": {}}', '1:15 duplicate-key'],
    ['{"watch": {"checkInterval": 3}}', '1:29 duration-without-unit'],
    ['[]', '1:1 wrong-type'],
    ['null', '1:1 file-empty'],
  ])('is refused with its place (%#)', (text, expected) => {
    expect(json(text)).toEqual([expected]);
  });
});

describe('any text', () => {
  it('is read or refused, and never throws', () => {
    const pieces = fc.constantFrom(
      'watch:',
      'door:',
      '  - ',
      'at ',
      '07:30',
      ' for ',
      '40s',
      '{',
      '}',
      '[',
      ']',
      ': ',
      ', ',
      '\n',
      '  ',
      '&a ',
      '*a',
      '!!str ',
      '"',
      "'",
      '#',
      '---',
      'name',
      '|',
      '>',
      '?',
      '%',
      '-1e400',
      '.nan',
    );
    const text = fc.oneof(
      fc.array(pieces, { maxLength: 30 }).map((parts) => parts.join('')),
      anyText(60),
    );
    fc.assert(
      fc.property(text, fc.constantFrom('a.yaml', 'a.json'), (given, file) => {
        for (const parse of [parseWatchFile, parseScenario]) {
          const result = parse(given, file);
          if (!result.ok) expect(result.errors.length).toBeGreaterThan(0);
        }
      }),
    );
  });
});
