// The program `dozewatch`: the real machine around `run`, and what an interrupt leaves behind: nothing.
import { removeUnfinished } from './host/atomic-file.js';
import { nodeIo } from './host/node-io.js';
import { run } from './run.js';

const interrupts = { SIGINT: 130, SIGTERM: 143 } as const;

for (const [signal, status] of Object.entries(interrupts)) {
  process.once(signal, () => {
    removeUnfinished();
    // Nothing is left worth waiting for: not even what is still to be printed.
    process.exit(status);
  });
}

process.exitCode = await run(process.argv.slice(2), nodeIo());
