// The program `dozewatch`: the real machine around `run`, and what an interrupt leaves behind: nothing.
import { guardSignals, removeLeftovers } from './host/interrupt.js';
import { currentFolder, nodeIo } from './host/node-io.js';
import { printFault, refuseFolder, run } from './run.js';

guardSignals();

const args = process.argv.slice(2);
const io = nodeIo();

// `run` catches what it waits for; this is for what nobody waited for.
process.once('uncaughtException', (error) => {
  removeLeftovers();
  void printFault(error, args, io).finally(() => process.exit(3));
});

process.exitCode = await (currentFolder() === null ? refuseFolder(args, io) : run(args, io));
