// `dozewatch chart`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { chartTakes } from './options.js';

export const chartCommand: CommandDefinition = {
  define(command, start) {
    chartTakes(command).action((timeline, options) =>
      start(async (io, style) => {
        const { chart } = await import('./run.js');
        return chart(timeline, options, { io, style });
      }),
    );
  },
};
