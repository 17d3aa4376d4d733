// Witnesses of bounds into a folder, with the watch they were made for where no file says it.

import path from 'node:path';
import { shellWord } from '../../base/index.js';
import type { Witness } from '../../bounds/index.js';
import { overlaidWatchText, type WatchOverride } from '../../scenarios/index.js';
import type { Io } from '../host/io.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import { asRun } from '../layout/command-line.js';
import { type WitnessFile, witnessFile } from './witness.js';

const watchFileName = 'bounds-watch.yaml';

export interface WrittenWitnesses {
  /** The file of each witness, in their order; null: it was not written, since the contact's bounce or the end of the charge changes what happens, or it is too long. */
  readonly ofWitness: readonly (string | null)[];
  /** The watch that the witnesses were made for, where it was written beside them. */
  readonly watchFile: string | null;
}

/** @throws InputProblem when a file would overwrite the watch, or cannot be written. */
export async function writeWitnesses(
  witnesses: readonly Witness[],
  watch: LoadedWatch,
  on: {
    readonly folder: string;
    readonly overrides: readonly WatchOverride[];
    readonly logic: string | undefined;
    readonly io: Io;
  },
): Promise<WrittenWitnesses> {
  const { folder, overrides, logic, io } = on;
  const logicWords = logic === undefined ? '' : ` --logic ${shellWord(logic)}`;
  const inFolder = (name: string): string => path.join(folder, name);
  const named = overrides.length === 0 && watch.name !== '-' ? watch.name : null;
  const config = named ?? inFolder(watchFileName);
  const again = (name: string): string =>
    asRun(
      `dozewatch replay ${shellWord(inFolder(name))} -c ${shellWord(config)}${logicWords}`,
      io.environment,
    );
  const scenarios = witnesses.map((witness) => witnessFile(witness, watch, again));
  const files: WitnessFile[] = scenarios.filter((file) => file !== null);
  if (named === null) {
    const comment = ['The watch that the scenarios beside this file were made for.'];
    const text = overlaidWatchText(watch.text, watch.name ?? '-', { overrides, comment });
    files.push({ name: watchFileName, text });
  }
  const outputs = files.map(({ name }) => {
    return { option: '--witness', file: inFolder(name), inFolder: true } as const;
  });
  await refuseUnfitOutputs(outputs, { inputs: [watch.name ?? undefined, logic], io });
  for (const { name, text } of files) {
    await writeOutput(inFolder(name), [text], io, { inFolder: true });
  }
  return {
    ofWitness: scenarios.map((file) => (file === null ? null : inFolder(file.name))),
    watchFile: named === null ? config : null,
  };
}
