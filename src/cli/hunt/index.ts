// `dozewatch hunt`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { huntTakes } from './options.js';

export const huntCommand: CommandDefinition = {
  define(command, start) {
    huntTakes(command).action((options) =>
      start(async (io, style) => {
        const { huntWatch } = await import('./run.js');
        return huntWatch(options, { io, style });
      }),
    );
  },
};
