// What benches take of the command line: everything else comes in through main.ts.
export { compileFirmware } from './host/compile-firmware.js';
export { nodeIo } from './host/node-io.js';
export { openRig } from './host/rig-process.js';
