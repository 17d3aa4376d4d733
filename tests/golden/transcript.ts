// Runs a golden case and records all that it printed and wrote, the same on every machine.
import { createHash } from 'node:crypto';
import { cpSync, existsSync, readFileSync } from 'node:fs';
import { homedir, tmpdir } from 'node:os';
import path from 'node:path';
import { filesIn, ownFolder, type Ran, runHere } from '../cli/run-here.js';
import type { GoldenCase } from './case.js';

const inputFolders = ['tests/golden/inputs', 'tests/firmware'];
/** A picture longer than this is kept as its words and its checksum. */
const mostOfPicture = 12_000;
/** Of a longer text the rest is kept as its checksum. */
const mostOfText = 30_000;
const keptOfText = 10_000;

interface Line {
  readonly shown: string;
  readonly args: readonly string[];
  readonly stdin: string | null;
  readonly status: number;
}

/** What a case prints and writes. */
export interface Transcript {
  readonly text: string;
  /** Runs that ended otherwise than the case says. */
  readonly otherwise: readonly string[];
}

export async function transcriptOf(one: GoldenCase): Promise<Transcript> {
  const folder = ownFolder(one.files);
  const lines = one.runs.map((run) => parsed(run, one.status));
  const named = lines.flatMap(({ args, stdin }) => (stdin === null ? args : [...args, stdin]));
  for (const name of [...named, ...one.inputs]) bring(name, folder);
  const otherwise: string[] = [];
  const parts: string[] = [];
  for (const line of lines) {
    const before = contents(folder);
    const ran = await runHere(folder, line.args, {
      stdin: line.stdin === null ? '' : readFileSync(path.join(folder, line.stdin)),
      // The C compiler finds its parts by the path.
      environment: one.needsCompiler ? { PATH: process.env['PATH'] ?? '' } : {},
      ...(one.terminalColumns === undefined ? {} : { terminalColumns: one.terminalColumns }),
    });
    if (ran.status !== line.status) {
      otherwise.push(`${line.shown}: ${String(ran.status)} in place of ${String(line.status)}`);
    }
    parts.push(partOf(line, ran, changed(before, contents(folder))));
  }
  const text = parts.join('\n');
  refuseTraces(text, folder);
  return { text, otherwise };
}

function parsed(run: string, usual: number): Line {
  const [, line = '', status] = /^(.*?)(?: # status (\d+))?$/u.exec(run) ?? [];
  const [, command = '', stdin = null] = /^(.*?)(?: < (\S+))?$/u.exec(line) ?? [];
  const words = Array.from(command.matchAll(/"([^"]*)"|\S+/gu), ([word, quoted]) => quoted ?? word);
  return {
    shown: line,
    args: words.map((word) => word.replaceAll('\\n', '\n')),
    stdin: stdin ?? null,
    status: status === undefined ? usual : Number(status),
  };
}

/** Copies what a word names, if it names something. */
function bring(name: string, folder: string): void {
  if (!/^\w/u.test(name) || existsSync(path.join(folder, name))) return;
  const sources = inputFolders.map((from) => path.resolve(from, name));
  const source = sources.find((one) => existsSync(one));
  if (source !== undefined) cpSync(source, path.join(folder, name), { recursive: true });
}

type Contents = ReadonlyMap<string, Buffer>;

function contents(folder: string): Contents {
  return new Map(filesIn(folder).map((name) => [name, readFileSync(path.join(folder, name))]));
}

function changed(before: Contents, after: Contents): Contents {
  return new Map([...after].filter(([name, now]) => before.get(name)?.equals(now) !== true));
}

function partOf({ shown }: Line, { status, stdout, stderr }: Ran, written: Contents): string {
  const sections = [
    stdout === '' ? '' : ended(textOf(stdout)),
    stderr === '' ? '' : `--- standard error\n${ended(textOf(stderr))}`,
    ...Array.from(
      written,
      ([name, bytes]) => `--- written: ${name}\n${ended(fileText(name, bytes))}`,
    ),
  ];
  return `$ dozewatch ${shown}\n${sections.join('')}=== status ${String(status)}\n`;
}

function fileText(name: string, bytes: Buffer): string {
  const schema = path.resolve('schemas', path.basename(name));
  if (existsSync(schema) && readFileSync(schema).equals(bytes)) return '(as it is in schemas/)\n';
  if (bytes.subarray(1, 4).toString('latin1') === 'PNG') {
    return `PNG, ${String(bytes.readUInt32BE(16))} × ${String(bytes.readUInt32BE(20))} pixels\n`;
  }
  return textOf(bytes.toString('utf8'));
}

/** Markup one tag a line, so that differences can be read; what is long as its words. */
function textOf(text: string): string {
  if (/^<!doctype html/iu.test(text)) return wordsOf(text);
  if (!text.startsWith('<?xml')) return cut(visible(text));
  const lines = visible(text).replaceAll(/>(?=<)/gu, '>\n');
  if (lines.length <= mostOfPicture || !text.includes('<svg')) return lines;
  return `SVG, SHA-256 ${sumOf(text)}\n${wordsOf(text)}`;
}

function cut(text: string): string {
  if (text.length <= mostOfText) return text;
  const at = text.indexOf('\n', keptOfText) + 1;
  const rest = text.slice(at);
  return `${text.slice(0, at)}(${String(rest.split('\n').length - 1)} further lines, SHA-256 ${sumOf(rest)})\n`;
}

function sumOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

function wordsOf(markup: string): string {
  const words = markup
    .replaceAll(/<(script|style)\b[^]*?<\/\1>/gu, '')
    .replaceAll(/<\/(?:tspan|b|strong|em|code|span|td|th|a)>/gu, ' ')
    .replaceAll(/<(?:tspan|b|strong|em|code|span|td|th|a)\b[^>]*>/gu, '')
    .replaceAll(/<[^>]*>/gu, '\n');
  const lines = words.split('\n').map((line) => line.replaceAll(/\s+/gu, ' ').trim());
  return `${lines.filter((line) => line !== '').join('\n')}\n`;
}

/** Control characters made visible, for git and for people. */
function visible(text: string): string {
  return text.replaceAll(/[\u0000-\u0009\u000b-\u001f\u007f]/gu, (character) =>
    character === '\t' ? '\t' : `\\x${character.charCodeAt(0).toString(16).padStart(2, '0')}`,
  );
}

function ended(text: string): string {
  return text.endsWith('\n') ? text : `${text}\n(no end of line)\n`;
}

/** A machine, a moment or a version that stands in an output would make it another elsewhere. */
function refuseTraces(text: string, folder: string): void {
  const traces = [folder, process.cwd(), tmpdir(), homedir(), process.version];
  for (const trace of traces.filter(({ length }) => length > 1)) {
    const at = text.indexOf(trace);
    if (at >= 0) throw new Error(`an output has ${trace} in it: ${text.slice(at - 80, at + 80)}`);
  }
}
