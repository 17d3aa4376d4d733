// `dozewatch init`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { initTakes } from './options.js';

export const initCommand: CommandDefinition = {
  define(command, start) {
    initTakes(command).action((folder, options) =>
      start(async (io) => {
        const { init } = await import('./run.js');
        return init(folder, options, io);
      }),
    );
  },
};
