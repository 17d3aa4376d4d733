// What benches take of the command line: everything else comes in through main.ts.

export { nodeIo } from './host/node-io.js';
export { compileFirmware } from './rig/compile-firmware.js';
export { openRig } from './rig/process.js';
