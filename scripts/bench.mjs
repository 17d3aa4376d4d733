// Runs bench/*.bench.ts, each in a process of its own, and prints each row with its ratio to the baseline.
//
// A bench file exports `run(): Promise<BenchReport>` (bench/contract.ts): a title, rows of name, value and
// unit, and the name of the row that is the baseline, measured in the same process a moment earlier or
// later. Arguments are parts of file names: `npm run bench -- kernel` runs bench/kernel.bench.ts only.
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { runNode } from './support/process.mjs';
import { ensureInstalled, root } from './support/set-up.mjs';

/** @typedef {import('../bench/contract.js').BenchReport} BenchReport */

/** @param {string} file */
async function runOne(file) {
  const { importTypeScript } = await import('./support/import-typescript.mjs');
  const bench = await importTypeScript(file);
  if (typeof bench['run'] !== 'function') throw new Error(`${file} exports no run()`);
  /** @type {BenchReport} */
  const report = await bench['run']();
  console.log(table(report).join('\n'));
}

/** @param {BenchReport} report */
function table({ title, baseline, rows }) {
  const base = rows.find((row) => row.name === baseline);
  if (base === undefined) throw new Error(`${title}: no row is named '${baseline}'`);
  const cells = rows.map((row) => [
    row.name,
    readable(row.value),
    row.unit,
    row === base ? 'baseline' : `${readable(row.value / base.value)} x`,
  ]);
  const widths = [0, 1, 2, 3].map((column) =>
    Math.max(...cells.map((row) => (row[column] ?? '').length)),
  );
  return [
    title,
    ...cells.map((row) =>
      `  ${row.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join('  ')}`.trimEnd(),
    ),
    '',
  ];
}

/** @param {number} value */
function readable(value) {
  return value < 1000 ? value.toPrecision(3) : Math.round(value).toLocaleString('en-US');
}

/** @param {readonly string[]} wanted parts of file names; none means all */
async function runAll(wanted) {
  await ensureInstalled();
  const files = readdirSync(path.join(root, 'bench'))
    .filter((name) => name.endsWith('.bench.ts'))
    .filter((name) => wanted.length === 0 || wanted.some((part) => name.includes(part)));
  if (files.length === 0) {
    console.error('bench: no such bench file');
    process.exitCode = 1;
  }
  for (const name of files) {
    const args = [path.join(root, 'scripts', 'bench.mjs'), '--one', path.join('bench', name)];
    const { status } = await runNode(args, { cwd: root });
    if (status !== 0) process.exitCode = 1;
  }
}

const args = process.argv.slice(2);
await (args[0] === '--one' && args[1] !== undefined ? runOne(args[1]) : runAll(args));
