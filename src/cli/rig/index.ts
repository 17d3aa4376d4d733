// `dozewatch rig`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { rigTakes } from './options.js';

export const rigCommand: CommandDefinition = {
  define(command, start) {
    rigTakes(command).action((firmware, timelines, options) =>
      start(async (io, style) => {
        const { rig } = await import('./run.js');
        return rig(firmware === undefined ? [] : [firmware, ...timelines], options, { io, style });
      }),
    );
  },
};
