// `dozewatch completion`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { completionTakes } from './options.js';

export const completionCommand: CommandDefinition = {
  define(command, start, table) {
    completionTakes(command).action((shell, options) =>
      start(async (io) => {
        const { completion } = await import('./run.js');
        return completion(shell, options, { io, table });
      }),
    );
  },
};
