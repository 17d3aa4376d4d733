// Counts what ran and leaves the counts in a file: `npm test` prints them as its very last line, after
// everything that the runner itself has to say.
import { writeFileSync } from 'node:fs';
import type { Reporter } from 'vitest/node';

/** A file that does not load, a hook that throws and an error nobody awaited count as failed tests. */
export function countingReporter(file: string): Reporter {
  return {
    onTestRunEnd(modules, unhandledErrors) {
      const counts = { passed: 0, failed: unhandledErrors.length, skipped: 0 };
      for (const module of modules) {
        counts.failed += module.errors().length;
        for (const suite of module.children.allSuites()) counts.failed += suite.errors().length;
        for (const test of module.children.allTests()) {
          const { state } = test.result();
          counts[state === 'pending' ? 'skipped' : state] += 1;
        }
      }
      writeFileSync(file, JSON.stringify(counts));
    },
  };
}
