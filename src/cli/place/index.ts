// `dozewatch place`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { placeTakes } from './options.js';

export const placeCommand: CommandDefinition = {
  define(command, start) {
    placeTakes(command).action((trials, options) =>
      start(async (io, style) => {
        const { place } = await import('./run.js');
        return place(trials, options, { io, style });
      }),
    );
  },
};
