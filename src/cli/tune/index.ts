// `dozewatch tune`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { tuneTakes } from './options.js';

export const tuneCommand: CommandDefinition = {
  define(command, start) {
    tuneTakes(command).action((options) =>
      start(async (io, style) => {
        const { tune } = await import('./run.js');
        return tune(options, { io, style });
      }),
    );
  },
};
