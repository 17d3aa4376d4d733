// Spelling and grammar of the pages, by a checker that works offline. Every rule is on but those that are named below: they
// refuse what is right here. A word of the trade that it does not know belongs in `words`.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { Dialect, LocalLinter } from 'harper.js';
import { slimBinary } from 'harper.js/slimBinary';
import { root } from './support/set-up.mjs';

/** Rules that are off, each with the reason. */
const off = {
  CompoundNouns: 'time stamps and data sheets are two words here',
  DisjointPrefixes: 'a hyphen in non-empty is a choice',
  ExpandControl: 'Ctrl is what stands on the key',
  ExpandMemoryShorthands: 'units stand beside numbers',
  ExpandMinimum: 'min is a unit here',
  ExpandTimeShorthands: 'units stand beside numbers',
  GoodAt: 'takes "good in that week" for a skill',
  ItsContraction: 'takes "its limit before it" for "it is"',
  MassNouns: 'takes opening, timing and reading for masses',
  MergeWords: 'takes the unit s and the word after it for one word',
  MissingPreposition: 'takes "time is whole milliseconds" for a place',
  MissingTo: 'takes "is decided can" for an infinitive',
  Months: 'takes the verb may for the month',
  NumericRangeEnDash: 'the numbers of standards have hyphens',
  OneOfTheSingular: 'takes "one of the two" for a mistake',
  OrthographicConsistency: 'takes mA and MA for one word',
  Overall: 'takes "over all" for "overall"',
  OxfordComma: 'a choice: these pages leave it out',
  QuantifierNumeralConflict: 'takes "how much one takes" for a count',
  SentenceCapitalization: 'cells of tables and the name of the program begin small',
  SplitWords: 'takes statechart for two words',
  ThatThan: 'takes "a meter that" for a comparison',
  UseTitleCase: 'headings are sentences',
  WereWhere: 'takes "further wakes were the same" for "where"',
};

/** Words that the checker does not know: of the trade, of the program, of standards, and names. */
const words =
  "A4 AIC Akaike's arbitraries ASHRAE AVR bootTime C99 CC3220 CET checkInterval ci Clopper connectTime Ctrl " +
  "celsius derating dozewatch dozewatch's escalationThreshold Fi FSIS Gosney Hanley HortScience I/O iCalendar IEC initialiser initialisers " +
  "JAMA Jeffreys's js json JUnit Kaplan KB kOhm Kolmogorov leaveOpenAfter Lippman lognormal longestOutage " +
  'lowBattery mAh MB mC misspelt Musa mV nA NDJSON Olama OPC pC piecewise recheckInterval releaseGap sanitizers ' +
  "SCXML Smirnov SMT src statechart statechart's strptime SWRA659A T0 TPS62801 tsconfig TSV UTF v5 v6 v7E W3C Wi " +
  "XState xstate XState's Çelikel latencies reportWithin selfDischarge microamperes";

/** @returns {string[]} */
function pages() {
  const inDocs = readdirSync(path.join(root, 'docs')).filter((name) => name.endsWith('.md'));
  return ['README.md', 'DEVELOPERS.md', ...inDocs.map((name) => `docs/${name}`)];
}

/**
 * The ends of links, units behind numbers and letters of formulas are no words; a row of a table is no sentence.
 * @param {import('harper.js').Lint} lint @param {string} line
 */
function excused(lint, line) {
  if (lint.lint_kind() === 'Readability') return line.startsWith('|');
  return /^(?:md|[A-Za-z]\.?)$/u.test(lint.get_problem_text());
}

async function main() {
  const linter = new LocalLinter({ binary: slimBinary, dialect: Dialect.British });
  const rules = await linter.getDefaultLintConfig();
  for (const rule of Object.keys(off)) {
    if (!(rule in rules)) throw new Error(`the checker has no rule ${rule}`);
    rules[rule] = false;
  }
  await linter.setLintConfig(rules);
  await linter.importWords(words.split(' '));
  let found = 0;
  for (const page of pages()) {
    const text = readFileSync(path.join(root, page), 'utf8');
    const lines = text.split('\n');
    for (const lint of await linter.lint(text, { language: 'markdown' })) {
      const line = text.slice(0, lint.span().start).split('\n').length;
      if (excused(lint, lines[line - 1] ?? '')) continue;
      console.error(`${page}:${line}: "${lint.get_problem_text()}": ${lint.message()}`);
      found += 1;
    }
  }
  process.exitCode = found === 0 ? 0 : 1;
}

await main();
