// How the tests run against mutants: only the chosen files, and all that shall fail at the first failure.
import { defineConfig } from 'vitest/config';

const chosen = JSON.parse(process.env['DOZEWATCH_MUTANTS_TESTS'] ?? '[]');

export default defineConfig({
  test: {
    include: chosen,
    setupFiles: ['tests/support/setup.ts'],
    testTimeout: 240_000,
    hookTimeout: 30_000,
  },
});
