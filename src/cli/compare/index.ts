// `dozewatch compare`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { compareTakes } from './options.js';

export const compareCommand: CommandDefinition = {
  define(command, start) {
    compareTakes(command).action((timeline, options) =>
      start(async (io, style) => {
        const { compare } = await import('./run.js');
        return compare(timeline, options, { io, style });
      }),
    );
  },
};
