// `dozewatch suite`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { suiteTakes } from './options.js';

export const suiteCommand: CommandDefinition = {
  define(command, start) {
    suiteTakes(command).action((folder, options) =>
      start(async (io, style) => {
        const { suite } = await import('./run.js');
        return suite(folder, options, { io, style });
      }),
    );
  },
};
