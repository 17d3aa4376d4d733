// The program `dozewatch`: the real machine around `run`, and what an interrupt leaves behind: nothing.
import { guardSignals } from './host/interrupt.js';
import { currentFolder, nodeIo } from './host/node-io.js';
import { hasTemporaryFolders } from './host/temporary-folder.js';
import { hasUnfinished, removeUnfinished } from './host/write-output.js';
import { printFault, refuseFolder, run } from './run.js';

// Folders for a time are removed as the process exits.
guardSignals({
  isThere: () => hasUnfinished() || hasTemporaryFolders(),
  remove: removeUnfinished,
});

const args = process.argv.slice(2);
const io = nodeIo();

// `run` catches what it waits for; this is for what nobody waited for.
process.once('uncaughtException', (error) => {
  removeUnfinished();
  void printFault(error, args, io).finally(() => process.exit(3));
});

process.exitCode = await (currentFolder() === null ? refuseFolder(args, io) : run(args, io));
