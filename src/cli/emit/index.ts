// `dozewatch emit`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { emitTakes } from './options.js';

export const emitCommand: CommandDefinition = {
  define(command, start) {
    emitTakes(command).action((language, options) =>
      start(async (io, style) => {
        const { emit } = await import('./run.js');
        return emit(language, options, { io, style });
      }),
    );
  },
};
