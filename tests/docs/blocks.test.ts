// Blocks of YAML, JSON and TypeScript in the documents: YAML is read by the program's own parsers where it is one of its
// files, and TypeScript compiles against the library.
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { runNode } from '../../scripts/support/process.mjs';
import { parseProfile, parseScenario, parseWatchFile } from '../../src/scenarios/index.js';

interface Block {
  readonly title: string;
  readonly text: string;
}

const pages = ['README.md', ...readdirSync('docs').map((name) => `docs/${name}`)].filter((name) =>
  name.endsWith('.md'),
);

function blocksOf(language: string): readonly Block[] {
  return pages.flatMap((page) =>
    Array.from(readFileSync(page, 'utf8').matchAll(/^```(\w*)\n([\s\S]*?)^```$/gmu))
      .filter(([, kind]) => kind === language)
      .map(([, , text = ''], index) => ({ title: `${page}, no. ${String(index + 1)}`, text })),
  );
}

const watchKeys = ['watch', 'device', 'judge', 'supply', 'door'];
const profileKeys = ['openingsPerHour', 'visits'];
const scenarioKeys = ['length', 'generate', 'expect', 'network', 'power', 'resets'];

/** Reads a block as the file that it is by its keys: what is wrong with it, or null where it is none of ours. */
function wrongWith(text: string): readonly unknown[] | null {
  const value: unknown = parse(text);
  const keys = Object.keys(Object(value));
  const has = (known: readonly string[]): boolean => known.some((key) => keys.includes(key));
  const reader = has(profileKeys)
    ? parseProfile
    : has(scenarioKeys)
      ? parseScenario
      : has(watchKeys) || keys.includes('environment')
        ? parseWatchFile
        : null;
  if (reader === null) return null;
  const read = reader(text, 'block.yaml');
  return read.ok ? [] : read.errors;
}

describe('blocks of the documents', () => {
  const yaml = blocksOf('yaml');
  it.each(yaml.map(({ title, text }) => [title, text]))('YAML in %s is sound', (_, text) => {
    expect(wrongWith(text) ?? []).toEqual([]);
  });

  it('are read as files of ours, most of them', () => {
    expect(yaml.filter(({ text }) => wrongWith(text) !== null).length).toBeGreaterThan(5);
  });

  it('of JSON are JSON', () => {
    for (const { title, text } of blocksOf('json'))
      expect(() => void JSON.parse(text), title).not.toThrow();
  });

  it('of TypeScript compile against the library, and run', async () => {
    const folder = path.join('.cache', 'docs-blocks');
    rmSync(folder, { recursive: true, force: true });
    mkdirSync(folder, { recursive: true });
    const blocks = blocksOf('ts');
    expect(blocks.length).toBeGreaterThan(2);
    for (const [index, { text }] of blocks.entries()) {
      writeFileSync(path.join(folder, `block-${String(index)}.ts`), text);
    }
    const root = '../..';
    const config = {
      extends: `${root}/tsconfig.base.json`,
      compilerOptions: {
        types: ['node'],
        lib: ['es2023', 'es2024.string'],
        noUnusedLocals: false,
        paths: {
          dozewatch: [`${root}/src/index.ts`],
          'dozewatch/arbitraries': [`${root}/src/hunt/index.ts`],
        },
      },
      include: ['*.ts', `${root}/src/**/*.d.ts`],
      exclude: [`${root}/src/base/core-globals.d.ts`],
    };
    writeFileSync(path.join(folder, 'tsconfig.json'), JSON.stringify(config));
    const compiler = path.join('node_modules', 'typescript7', 'bin', 'tsc');
    const compiled = await runNode([compiler, '-p', folder], { capture: true });
    expect(compiled).toMatchObject({ status: 0, output: '' });
    const all = path.join(folder, 'all.ts');
    const imports = blocks.map((_, index) => `await import('./block-${String(index)}.js');\n`);
    writeFileSync(all, `${imports.join('')}export {};\n`);
    const env = { TSX_TSCONFIG_PATH: path.join(folder, 'tsconfig.json') };
    const ran = await runNode(['--import', 'tsx', all], { capture: true, env });
    expect(ran).toMatchObject({ status: 0 });
    rmSync(folder, { recursive: true, force: true });
  });
});
