// `dozewatch profile`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { profileTakes } from './options.js';

export const profileCommand: CommandDefinition = {
  define(command, start) {
    profileTakes(command).action((file, options) =>
      start(async (io, style) => {
        const { profile } = await import('./run.js');
        return profile(file, options, { io, style });
      }),
    );
  },
};
