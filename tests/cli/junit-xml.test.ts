// A suite's findings as JUnit XML, read by three outside readers: a validator, a parser, and one of JUnit's own shape.
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { parse } from 'junit2json';
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import type { SuiteCase } from '../../src/cli/suite/case.js';
import { junitXml } from '../../src/cli/suite/junit-xml.js';
import { suiteCases, summary } from './suite-cases.js';

const scene = {
  name: 'scenarios',
  hostname: 'bench',
  startedMs: Date.UTC(2026, 4, 8, 4, 5, 6, 789),
};

const strict = readFileSync(new URL('junit-strict.xsd', import.meta.url), 'utf8');

/** Which of some documents the strict schema takes. */
async function taken(documents: readonly string[]): Promise<readonly boolean[]> {
  const xml = documents.map((contents, index) => ({ fileName: `${String(index)}.xml`, contents }));
  const { errors } = await validateXML({ xml, extension: 'schema', schema: [strict] });
  return xml.map(({ fileName }) => !errors.some(({ rawMessage }) => rawMessage.includes(fileName)));
}

/** Every attribute and every text of elements without others, as a parser that knows nothing of JUnit reads them. */
function valuesIn(xml: string): readonly string[] {
  const values: string[] = [];
  const parser = new SaxesParser();
  parser.on('opentag', ({ attributes }) => values.push(...Object.values(attributes)));
  parser.on('text', (text) => text.trim() !== '' && values.push(text));
  parser.on('error', (error) => {
    throw error;
  });
  parser.write(xml).close();
  return values;
}

const nasty = ['\0', '\u0001', '\u001b[2J', ']]>', '"', "'", '<', '&', '&#0;', '\t', '\r\n', ' '];
const nastier = ['\u0085', '\u2028', '\ud800', '\udfff', '\ufffe', '\uffff', '🚪', '--', '<!--'];
const piece = fc.oneof(fc.constantFrom(...nasty, ...nastier), fc.string({ unit: 'binary' }));
const hostile = fc.array(piece, { maxLength: 6 }).map((pieces) => pieces.join(''));
const fileName = hostile.map((name) => `${name.replaceAll('/', '')}.yaml`);

const hostileCase: fc.Arbitrary<SuiteCase> = fc.record({
  path: fc.oneof(
    fileName,
    fc.tuple(fc.constantFrom('ajar', 'wind'), fileName).map((parts) => parts.join('/')),
  ),
  tookMs: fc.integer({ min: 0, max: 1e9 }),
  result: fc.oneof(
    fc.record({
      kind: fc.constant('judged' as const),
      name: hostile,
      summary: fc.constant(summary),
      unmet: fc.array(fc.record({ name: hostile, wanted: hostile, got: hostile }), {
        maxLength: 2,
      }),
      expects: fc.boolean(),
      reasons: fc.array(hostile, { maxLength: 2 }),
    }),
    fc.record({
      kind: fc.constant('unreadable' as const),
      errors: fc.array(
        fc.record({
          code: fc.constant('unknown-key'),
          severity: fc.constant('error' as const),
          source: fc.record({ file: hostile }),
          message: hostile,
        }),
        { minLength: 1, maxLength: 2 },
      ),
    }),
  ),
});

const hostileSuite = fc.record({
  cases: fc.array(hostileCase, { maxLength: 20 }),
  name: hostile,
  hostname: hostile,
});

describe('a suite in JUnit XML', () => {
  const xml = junitXml(suiteCases, scene);

  it('is valid by the strictest schema, with cases and without', async () => {
    expect(await taken([xml, junitXml([], scene)])).toEqual([true, true]);
    expect(junitXml([], scene)).toContain('<testsuites/>');
  });

  it('holds nothing that the strictest schema would not miss', async () => {
    const [suite = '', one = ''] = [/<testsuite [^>]*>/u, /<testcase [^>]*>/u].map(
      (tag) => tag.exec(xml)?.[0] ?? '',
    );
    const attributes = [suite, one].flatMap((tag) =>
      Array.from(tag.matchAll(/ \w+="[^"]*"/gu), ([found]) => xml.replace(found, '')),
    );
    const findings = [xml.replace(/ type="unmet-expectation"/u, '')];
    const parts = ['properties', 'system-out', 'system-err'].map((name) =>
      xml.replace(`<${name}/>`, ''),
    );
    const changed = [...attributes, ...findings, ...parts];
    expect(changed.length).toBe(9 + 3 + 1 + 3);
    expect(new Set(changed)).not.toContain(xml);
    expect(await taken(changed)).toEqual(changed.map(() => false));
  });

  it('is valid whatever folders, scenarios, hosts and findings are called', async () => {
    const suites = fc.sample(hostileSuite, 200);
    const documents = suites.map(({ cases, ...names }) => junitXml(cases, { ...scene, ...names }));
    expect(await taken(documents)).toEqual(documents.map(() => true));
    for (const [index, document] of documents.entries()) {
      const values = valuesIn(document);
      for (const { result } of suites[index]?.cases ?? []) {
        if (result.kind !== 'judged' || result.name.trim() === '') continue;
        expect(values.map(asRead)).toContain(asRead(result.name));
      }
    }
  });

  it('has a suite a folder, with what strict readers ask for', async () => {
    const suites = JSON.parse(JSON.stringify(await parse(xml)));
    expect(suites.testsuite).toMatchObject([
      { id: 0, package: 'scenarios', name: 'scenarios', tests: 1, failures: 0, errors: 0 },
      { id: 1, package: 'scenarios', name: 'scenarios/ajar', tests: 2, failures: 1, errors: 1 },
    ]);
    for (const suite of suites.testsuite) {
      expect(suite.timestamp).toBe('2026-05-08T04:05:06');
      expect(suite.hostname).toBe('bench');
      expect(suite.time).toBeTypeOf('number');
    }
    expect(xml).toMatch(/<testsuites>\n/u);
  });

  it('names what was expected and what it got in each failure, with a type', () => {
    expect(xml).toMatch(
      /<failure type="unmet-expectation" message="missed: expected 0, got 1">missed: expected 0, got 1\nshut 4 s before/u,
    );
    expect(xml).toMatch(
      /<error type="bad-input" message="ajar\/broken.yaml:3:1: there is no such key">/u,
    );
  });

  it('times each case in seconds', () => {
    expect(xml).toContain(
      '<testcase name="A calm day" classname="scenarios/calm.yaml" time="0.001"/>',
    );
  });

  it('obeys no control character', () => {
    expect(xml).not.toMatch(/[^\P{Cc}\n]|\ufffe|\uffff/u);
  });
});

/** What no XML can hold is replaced, and white space in attributes is blanks. */
function asRead(text: string): string {
  return text
    .replaceAll(/[\0-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff\p{Cs}]/gu, '\ufffd')
    .replaceAll(/\r\n|[\t\n\r]/gu, ' ');
}
