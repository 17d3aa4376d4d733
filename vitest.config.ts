// Tests are tests/**/*.test.ts. Coverage floors are for the folders that decide verdicts, and only go up.
import { defineConfig } from 'vitest/config';
// So that what is given to Node below also loads in this process.
import './scripts/support/typescript.mjs';
import { LongestFirst } from './tests/support/longest-first.js';
import { countingReporter } from './tests/support/reporter.js';

const countsFile = process.env['DOZEWATCH_TEST_COUNTS'];
const floor = { branches: 90 };

// The runner looks up each name that a module imports every time that it is used: in long simulations, half of the time.
// Node loads all but the test files itself, unless the runner must see them: to count lines, or to watch for changes.
const { argv } = process;
const loadedByNode = argv.includes('run') && !argv.includes('--coverage');
const loader = new URL('./scripts/support/typescript.mjs', import.meta.url).href;
const byNode = {
  // Simulated lives leave many objects that are soon forgotten: with room for them, fewer are looked at twice.
  execArgv: ['--max-semi-space-size=64', '--enable-source-maps', '--import', loader],
  server: { deps: { external: [/\/(?:src|tests)\/.*(?<!\.test)\.tsx?$/u] } },
};

export default defineConfig({
  // Packages as the program has them, not as made for the development of pages, which look at more and take longer.
  ssr: { resolve: { conditions: ['node'] } },
  test: {
    ...(loadedByNode ? byNode : {}),
    include: ['tests/**/*.test.ts'],
    globalSetup: ['tests/support/global-setup.ts'],
    setupFiles: ['tests/support/setup.ts'],
    // Processes, because some tests start commands and change folders; as many as there are cores, each for many files,
    // since loading the sources anew for each of them takes a sixth of the time.
    pool: 'forks',
    isolate: false,
    maxWorkers: '100%',
    sequence: { sequencer: LongestFirst },
    testTimeout: 240_000,
    hookTimeout: 30_000,
    // What is waited for comes in its time, also on a machine that has much to do.
    expect: { poll: { timeout: 60_000 } },
    reporters: countsFile === undefined ? ['default'] : ['default', countingReporter(countsFile)],
    coverage: {
      provider: 'v8',
      include: ['src/**/*.{ts,tsx}'],
      reporter: ['text-summary'],
      thresholds: {
        'src/machine/**': floor,
        'src/world/**': floor,
        'src/sim/**': floor,
        'src/verdict/**': floor,
      },
    },
  },
});
