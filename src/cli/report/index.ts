// `dozewatch report`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { reportTakes } from './options.js';

export const reportCommand: CommandDefinition = {
  define(command, start) {
    reportTakes(command).action((timelines, options) =>
      start(async (io, style) => {
        const { report } = await import('./run.js');
        return report(timelines, options, { io, style });
      }),
    );
  },
};
