// A suite as JUnit XML, in the shape that the strictest readers ask for: a bare <testsuites>, one numbered <testsuite>
// a folder with a zoneless time stamp, a host name and all its parts, empty ones too, and a type on every finding.
import XmlBuilder from 'fast-xml-builder';
import { errorLine, nameOf, outcomeOf, type SuiteCase, unmetText } from './case.js';

export interface JunitScene {
  /** The suite's name: its folder, as the user gave it. */
  readonly name: string;
  readonly hostname: string;
  /** Milliseconds since 1970-01-01T00:00:00Z. */
  readonly startedMs: number;
}

/** What XML 1.0 cannot hold at all, not even as a reference. */
const notXml = /[\0-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff\p{Cs}]/gu;

export function junitXml(cases: readonly SuiteCase[], scene: JunitScene): string {
  const builder = new XmlBuilder({
    ignoreAttributes: false,
    attributeNamePrefix: '@',
    suppressBooleanAttributes: false,
    suppressEmptyNode: true,
    format: true,
  });
  const folders = new Map<string, SuiteCase[]>();
  for (const one of cases) {
    const folder = one.path.split('/').slice(0, -1).join('/');
    const others = folders.get(folder);
    if (others === undefined) folders.set(folder, [one]);
    else others.push(one);
  }
  const suites = Array.from(folders, ([folder, own], id) => ({
    '@id': String(id),
    ...suiteNode(folder, own, scene),
  }));
  return builder.build({
    '?xml': { '@version': '1.0', '@encoding': 'UTF-8' },
    testsuites: suites.length === 0 ? '' : { testsuite: suites },
  });
}

function suiteNode(folder: string, cases: readonly SuiteCase[], scene: JunitScene): object {
  const name = notBlank(folder === '' ? scene.name : `${scene.name}/${folder}`, 'suite');
  const count = (outcome: string): string =>
    String(cases.filter((one) => outcomeOf(one) === outcome).length);
  const tookMs = cases.reduce((sum, one) => sum + one.tookMs, 0);
  return {
    '@package': clean(scene.name),
    '@name': clean(name),
    '@timestamp': new Date(scene.startedMs).toISOString().slice(0, 19),
    '@hostname': clean(notBlank(scene.hostname, 'localhost')),
    '@tests': String(cases.length),
    '@failures': count('failed'),
    '@errors': count('error'),
    '@time': seconds(tookMs),
    properties: '',
    testcase: cases.map((one) => caseNode(one, name)),
    'system-out': '',
    'system-err': '',
  };
}

function caseNode(one: SuiteCase, suite: string): object {
  const attributes = {
    '@name': clean(notBlank(nameOf(one), one.path)),
    '@classname': clean(`${suite}/${one.path.split('/').at(-1) ?? ''}`),
    '@time': seconds(one.tookMs),
  };
  const { result } = one;
  if (result.kind === 'unreadable') {
    const lines = result.errors.map(errorLine);
    return { ...attributes, error: finding('bad-input', lines[0] ?? '', lines) };
  }
  if (result.unmet.length === 0) return attributes;
  const unmet = result.unmet.map(unmetText);
  const type = result.expects ? 'unmet-expectation' : 'promise-not-kept';
  return { ...attributes, failure: finding(type, unmet.join('; '), [...unmet, ...result.reasons]) };
}

function finding(type: string, message: string, lines: readonly string[]): object {
  // In an attribute a line break would become a blank.
  return {
    '@type': type,
    '@message': clean(message.replace(/\s+/gu, ' ')),
    '#text': clean(lines.join('\n')),
  };
}

/** Strict readers take no name of blanks alone. */
function notBlank(text: string, otherwise: string): string {
  return text.trim() === '' ? otherwise : text;
}

function seconds(ms: number): string {
  return (ms / 1_000).toFixed(3);
}

function clean(text: string): string {
  return text.replace(notXml, '\ufffd');
}
