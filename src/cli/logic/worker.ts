// A thread for an owner's own machine: what never comes to an end there can be ended from outside.
import { parentPort, workerData } from 'node:worker_threads';
import { compileLogic, type LogicTask } from './compile.js';

// oxlint-disable-next-line typescript/no-unsafe-assignment -- what one side sends the other takes: both are of the same build
const task: LogicTask = workerData;
parentPort?.postMessage(await compileLogic(task));
