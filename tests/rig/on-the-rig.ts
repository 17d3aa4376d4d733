// Firmware from its text or its file, compiled and ready to run, and gone when the test is over unless it is kept.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { onTestFinished } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { compileFirmware } from '../../src/cli/rig/compile-firmware.js';
import { openRig, type Rig } from '../../src/cli/rig/process.js';
import { defaultWatchFile } from '../../src/scenarios/index.js';
import { compileWatch, type Experiment } from '../../src/sim/index.js';
import { deviceTiming, idealContactEdges, noSpans, spansOf } from '../../src/world/index.js';
import { ioOf } from '../cli/run-here.js';

export const firmwareFolder = path.resolve('tests', 'firmware');

/**
 * @param compiler such as `cc -DCHECK_MS=7`.
 * @throws InputProblem that names a compiler to install where there is none.
 */
export async function onTheRig(
  file: string,
  compiler = 'cc',
  lasts: 'one test' | 'kept' = 'one test',
): Promise<Rig> {
  const environment = { PATH: process.env['PATH'] ?? '', CC: compiler };
  const compiled = await compileFirmware(file, ioOf(firmwareFolder, { environment }));
  const rig = openRig(compiled);
  if (lasts === 'one test') onTestFinished(() => rig.close());
  return rig;
}

/** A firmware whose text begins below the includes. @param name ends in .cpp for C++. */
export async function textOnTheRig(
  text: string,
  lasts: 'one test' | 'kept' = 'one test',
  name = 'firmware.c',
): Promise<Rig> {
  const includes = ['dozewatch_rig.h', 'stdio.h', 'stdlib.h', 'string.h', 'signal.h', 'unistd.h'];
  const lines = includes.map((name) => `#include <${name}>`);
  const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-test-'));
  try {
    const file = path.join(folder, name);
    writeFileSync(file, `${lines.join('\n')}\n${text}\n`);
    return await onTheRig(file, 'cc', lasts);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const hourMs = 3_600_000;

/** The default watch, and a door that is open from the first hour to the second. */
export function dayOfADoor(lengthMs = 24 * hourMs): Experiment {
  const { watch, timing: ranges } = defaultWatchFile();
  const timing = deviceTiming({}, ranges);
  const openings = spansOf([[hourMs, 2 * hourMs]]);
  const world = {
    lengthMs: trueMs(lengthMs),
    openings,
    contact: idealContactEdges(openings),
    networkDown: noSpans,
    powerLost: noSpans,
    resetsMs: new Float64Array(0),
    powerOnAtMs: trueMs(0),
  };
  return { program: compileWatch(watch), timing, world, seed: '1' };
}
