// The program `dozewatch`: the real machine around `run`, and what an interrupt leaves behind: nothing.
import { passInterrupt } from './host/interrupt.js';
import { currentFolder, nodeIo } from './host/node-io.js';
import { removeUnfinished } from './host/write-output.js';
import { printFault, refuseFolder, run } from './run.js';

const interrupts = { SIGHUP: 129, SIGINT: 130, SIGTERM: 143 } as const;

for (const [signal, status] of Object.entries(interrupts)) {
  process.on(signal, () => {
    if (signal === 'SIGINT' && passInterrupt()) return;
    removeUnfinished();
    // Nothing is left worth waiting for: not even what is still to be printed.
    process.exit(status);
  });
}

const args = process.argv.slice(2);
const io = nodeIo();

// `run` catches what it waits for; this is for what nobody waited for.
process.once('uncaughtException', (error) => {
  removeUnfinished();
  void printFault(error, args, io).finally(() => process.exit(3));
});

process.exitCode = await (currentFolder() === null ? refuseFolder(args, io) : run(args, io));
