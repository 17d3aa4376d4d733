// `dozewatch merge`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { mergeTakes } from './options.js';

export const mergeCommand: CommandDefinition = {
  define(command, start) {
    mergeTakes(command).action((files, options) =>
      start(async (io, style) => {
        const { merge } = await import('./run.js');
        return merge(files, options, { io, style });
      }),
    );
  },
};
