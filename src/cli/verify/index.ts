// `dozewatch verify`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { verifyTakes } from './options.js';

export const verifyCommand: CommandDefinition = {
  define(command, start) {
    verifyTakes(command).action((certificate, options) =>
      start(async (io, style) => {
        const { verify } = await import('./run.js');
        return verify(certificate, options, { io, style });
      }),
    );
  },
};
