// `dozewatch drill`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { drillTakes } from './options.js';

export const drillCommand: CommandDefinition = {
  define(command, start) {
    drillTakes(command).action((options) =>
      start(async (io, style) => {
        const { drill } = await import('./run.js');
        return drill(options, { io, style });
      }),
    );
  },
};
