// The guide for contributors and the product page, compared with the tree.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import packageJson from '../../package.json' with { type: 'json' };
import layers from '../../scripts/layers.json' with { type: 'json' };
import { commandTable } from '../../src/cli/commands.js';

const guide = readFileSync('DEVELOPERS.md', 'utf8');
const readme = readFileSync('README.md', 'utf8');

const foldersIn = (folder: string): string[] =>
  readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name)
    .sort();

describe('the guide for contributors', () => {
  const [, map = ''] = /^```\n(src\/\n[\s\S]*?)^```$/mu.exec(guide) ?? [];

  it('has every folder of the sources in its map, and no other', () => {
    const mapped = Array.from(map.matchAll(/^ {2}(\w+)\/ /gmu), ([, name = '']) => name);
    expect(mapped.sort()).toEqual(foldersIn('src'));
  });

  it('has every folder at the top that is not made by a build', () => {
    const mapped = Array.from(map.matchAll(/^(\w+)\/ /gmu), ([, name = '']) => name);
    for (const name of mapped) expect(existsSync(name), name).toBe(true);
    const ignored = readFileSync('.gitignore', 'utf8').split('\n');
    const top = foldersIn('.').filter(
      (name) => !name.startsWith('.') && !ignored.some((line) => line.replaceAll('/', '') === name),
    );
    expect([...mapped, 'src', 'scripts'].sort()).toEqual(top);
  });

  it('names only files and folders that are there', () => {
    const named = Array.from(guide.matchAll(/`([\w.-]+\/[\w./-]*)`/gu), ([, name = '']) => name);
    const made = named.filter((name) => !/\bNAME\b|^\.cache\//u.test(name));
    expect(made.length).toBeGreaterThan(20);
    const gone = made.filter((name) => !existsSync(name) && !existsSync(path.join('src', name)));
    expect(gone).toEqual([]);
  });

  it.each([
    ['DEVELOPERS.md', guide],
    ['README.md', readme],
  ])('and %s name only scripts that npm has', (_, text) => {
    const scripts = Array.from(text.matchAll(/npm (?:run )?([a-z:]+)/gu), ([, name = '']) => name);
    const own = new Set(['ci', 'install', 'pack', 'are']);
    const unknown = scripts.filter((name) => !own.has(name) && !(name in packageJson.scripts));
    expect(unknown).toEqual([]);
  });
});

describe('the layers', () => {
  it('speak of folders that are there', () => {
    for (const name of foldersIn('src')) expect(JSON.stringify(layers)).toContain(`"${name}"`);
  });
});

describe('the product page', () => {
  it('has every command but the one for shells in its table of questions', () => {
    const [, table = ''] =
      /^\| question \| command \| page \|\n([\s\S]*?)\n\n/mu.exec(readme) ?? [];
    const named = new Set(Array.from(table.matchAll(/`dozewatch (\w+)/gu), ([, name]) => name));
    const missing = commandTable.map(({ name }) => name).filter((name) => !named.has(name));
    expect(missing).toEqual(['completion']);
    expect(readme).toContain('dozewatch completion');
  });

  it('links only to what is there', () => {
    for (const page of ['README.md', ...readdirSync('docs').map((name) => `docs/${name}`)]) {
      if (!page.endsWith('.md')) continue;
      const links = readFileSync(page, 'utf8').matchAll(/\]\(([^):#]+)(?:#[^)]*)?\)/gu);
      const gone = Array.from(links, ([, name = '']) => path.join(path.dirname(page), name)).filter(
        (name) => !existsSync(name),
      );
      expect(gone, page).toEqual([]);
    }
  });
});
