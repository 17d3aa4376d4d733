// Renews the golden outputs (tests/golden/expected): what every command prints and writes now. Words behind the command
// renew only the cases with such names, as in `npm run golden -- bounds/`. Read the differences before you commit them.
import path from 'node:path';
import { runNode } from './support/process.mjs';
import { ensureBuilt, ensureInstalled, root } from './support/set-up.mjs';

const vitest = path.join('node_modules', 'vitest', 'vitest.mjs');
const given = process.argv.slice(2);
const names = given.length === 0 ? [] : ['-t', given.join('|')];

await ensureInstalled();
// The pages that report and planner write hold scripts that are built.
await ensureBuilt();
const { status } = await runNode([vitest, 'run', 'tests/golden', ...names], {
  cwd: root,
  env: { DOZEWATCH_GOLDEN: 'renew' },
});
process.exitCode = status;
