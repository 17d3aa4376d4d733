// `dozewatch estimate`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { estimateTakes } from './options.js';

export const estimateCommand: CommandDefinition = {
  define(command, start) {
    estimateTakes(command).action((options) =>
      start(async (io, style) => {
        const { estimate } = await import('./run.js');
        return estimate(options, { io, style });
      }),
    );
  },
};
