// `dozewatch silence`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { silenceTakes } from './options.js';

export const silenceCommand: CommandDefinition = {
  define(command, start) {
    silenceTakes(command).action((options) =>
      start(async (io, style) => {
        const { silence } = await import('./run.js');
        return silence(options, { io, style });
      }),
    );
  },
};
