// `dozewatch bounds`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { boundsTakes } from './options.js';

export const boundsCommand: CommandDefinition = {
  define(command, start) {
    boundsTakes(command).action((watches, options) =>
      start(async (io, style) => {
        const { bounds } = await import('./run.js');
        return bounds(watches, options, { io, style });
      }),
    );
  },
};
