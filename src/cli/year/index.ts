// `dozewatch year`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { yearTakes } from './options.js';

export const yearCommand: CommandDefinition = {
  define(command, start) {
    yearTakes(command).action((options) =>
      start(async (io, style) => {
        const { year } = await import('./run.js');
        return year(options, { io, style });
      }),
    );
  },
};
