// A suite's findings as text, JSON and JUnit XML, from plain data. The XML is read by two outside readers.
import { parse } from 'junit2json';
import { describe, expect, it } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import { junitXml } from '../../src/cli/present/junit-xml.js';
import { paint } from '../../src/cli/present/paint.js';
import type { SuiteCase } from '../../src/cli/present/suite-case.js';
import { suiteJson } from '../../src/cli/present/suite-json.js';
import { suiteReport } from '../../src/cli/present/suite-report.js';

const summary = {
  openings: 3,
  leaveOpens: 1,
  reported: 0,
  late: 0,
  missed: 1,
  undecided: 0,
  alerts: 0,
  falseAlarms: 0,
  earlyAlerts: 0,
  repeats: 0,
  checks: 480,
  worstDelayMs: null,
};

const hostileName = 'evil \u0001\u001b[2J "<&>\' ]]> \ud800 \uffff\n冷蔵室';

const cases: readonly SuiteCase[] = [
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

const scene = {
  name: 'scenarios',
  hostname: 'bench',
  startedMs: Date.UTC(2026, 4, 8, 4, 5, 6, 789),
};

describe('a suite in JUnit XML', () => {
  const xml = junitXml(cases, scene);

  it('is well-formed XML, whatever names hold', async () => {
    const { valid, errors } = await validateXML({
      xml: [{ fileName: 'suite.xml', contents: xml }],
      extension: 'schema',
      schema: [anySchema],
    });
    expect(errors).toEqual([]);
    expect(valid).toBe(true);
    expect(xml).not.toMatch(/[^\P{Cc}\n]|\ufffe|\uffff/u);
  });

  it('has a suite a folder, with what strict readers ask for', async () => {
    const suites = JSON.parse(JSON.stringify(await parse(xml)));
    expect(suites.testsuite).toMatchObject([
      { name: 'scenarios', tests: 1, failures: 0, errors: 0 },
      { name: 'scenarios/ajar', tests: 2, failures: 1, errors: 1 },
    ]);
    for (const suite of suites.testsuite) {
      expect(suite.timestamp).toBe('2026-05-08T04:05:06');
      expect(suite.hostname).toBe('bench');
      expect(suite.time).toBeTypeOf('number');
    }
    expect(xml).toMatch(/<testsuites>\n/u);
  });

  it('says wanted and got in each failure, with a type', () => {
    expect(xml).toMatch(
      /<failure type="unmet-expectation" message="missed: wanted 0, got 1">missed: wanted 0, got 1\nshut 4 s before/u,
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

  it('is complete without any case', () => {
    expect(junitXml([], scene)).toContain('<testsuites/>');
  });
});

describe('a suite for people and tools', () => {
  it('tells wanted and got below what failed, and counts at the end', () => {
    const text = [...suiteReport(cases, paint(false))].join('');
    expect(text).toMatch(/^pass {3}A calm day {2}calm\.yaml\n/u);
    expect(text).toContain('        missed: wanted 0, got 1\n');
    expect(text).toContain('ajar/broken.yaml:3:1: there is no such key\n');
    expect(text).toMatch(/\n\n1 scenario passed, 1 failed, 1 could not be read\.\n$/u);
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

/** Lets any element hold anything: what is left to check is that the XML is well-formed. */
const anySchema = `<?xml version="1.0"?>
<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema">
  <xs:element name="testsuites">
    <xs:complexType mixed="true">
      <xs:sequence><xs:any processContents="skip" minOccurs="0" maxOccurs="unbounded"/></xs:sequence>
      <xs:anyAttribute processContents="skip"/>
    </xs:complexType>
  </xs:element>
</xs:schema>`;
