// What users of the package meet beside its commands: links in its pages, and its types beside their own fast-check.
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { runNode, runNpm } from './process.mjs';
import { root } from './set-up.mjs';

/** The oldest fast-check that the range allows: the package is installed beside it. */
export const oldestFastCheck = '4.0.0';
/** Versions that users may have: the oldest, and one newer than ours. */
const otherFastChecks = [oldestFastCheck, '4.11.0'];

/** A property of a user's own, on a device of their own, with the arbitraries of the package. */
const program = `import fc from 'fast-check';
import { compileWatch, deviceTiming, judge, parseWatchFile, simulate } from 'dozewatch';
import { doorTimelines, rhythmOf, type TimelineShape } from 'dozewatch/arbitraries';

const read = parseWatchFile('watch: { checkInterval: 100s }', 'watch.yaml');
if (!read.ok) throw new Error('the watch file is refused');
const { watch, timing, judge: asked } = read.value;
const shape: TimelineShape = { lengthMs: 3_600_000, rhythm: rhythmOf(watch, timing), mostOutages: 0 };
const worlds: fc.Arbitrary<{ readonly lengthMs: number }> = doorTimelines(shape);
fc.assert(fc.property(worlds, ({ lengthMs }) => lengthMs === 3_600_000), { seed: 1 });
const program = compileWatch(watch);
const property = fc.property(doorTimelines(shape), fc.string(), (world, seed) => {
  const trace = simulate({ program, timing: deviceTiming({}, timing), world, seed });
  return judge(world.openings, trace, asked).summary.openings === world.openings.fromMs.length;
});
fc.assert(property, { seed: 1 });
console.log('held');
`;

/**
 * Compiles and runs the program beside each of the other versions of fast-check.
 * @param {string} home a folder in which the package is installed beside the oldest
 * @returns {Promise<readonly string[]>} what went wrong
 */
export async function wrongBesideOthers(home) {
  /** @type {string[]} */
  const wrong = [];
  const own = JSON.parse(readFileSync(path.join(root, 'package-lock.json'), 'utf8')).packages;
  writeFileSync(path.join(home, 'doors.mts'), program);
  for (const version of otherFastChecks) {
    if (version === own['node_modules/fast-check'].version) {
      wrong.push(
        `fast-check ${version} is the locked one: name another in ${path.basename(import.meta.url)}`,
      );
    }
    const install = [
      'install',
      '--no-audit',
      '--no-fund',
      '--prefer-offline',
      `fast-check@${version}`,
    ];
    if (version !== oldestFastCheck) {
      const installed = await runNpm(install, { cwd: home, capture: true });
      if (installed.status !== 0) wrong.push(installed.output);
    }
    if (existsSync(path.join(home, 'node_modules', 'dozewatch', 'node_modules', 'fast-check'))) {
      wrong.push(`beside fast-check ${version} the package has one of its own`);
    }
    const tsc = path.join(root, 'node_modules', 'typescript7', 'bin', 'tsc');
    const flags = ['--strict', '--module', 'nodenext', '--target', 'es2023'];
    for (const args of [[tsc, ...flags, 'doors.mts'], ['doors.mjs']]) {
      const { status, output } = await runNode(args, { cwd: home, capture: true });
      if (status !== 0)
        wrong.push(
          `fast-check ${version}: ${path.basename(args[0] ?? '')} ends with ${status}\n${output}`,
        );
    }
  }
  return wrong;
}

/**
 * @param {string} folder of the installed package
 * @returns {readonly string[]} each relative link of its pages that leads to nothing in it
 */
export function brokenLinks(folder) {
  const pages = [
    'README.md',
    ...readdirSync(path.join(folder, 'docs')).map((name) => `docs/${name}`),
  ];
  return pages
    .filter((page) => page.endsWith('.md'))
    .flatMap((page) => {
      const text = readFileSync(path.join(folder, page), 'utf8');
      const links = Array.from(
        text.matchAll(/\]\(([^)\s]+)|\b(?:src|href|srcset)="([^"\s]+)/gu),
        (found) => found[1] ?? found[2] ?? '',
      );
      return links
        .filter((link) => !/^(?:[a-z]+:|#)/iu.test(link))
        .filter((link) => {
          const target = path.resolve(folder, path.dirname(page), link.replace(/#.*/u, ''));
          return !target.startsWith(folder + path.sep) || !existsSync(target);
        })
        .map((link) => `${page} links to ${link}, which the package lacks`);
    });
}
