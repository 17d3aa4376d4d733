// `dozewatch replay`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { replayTakes } from './options.js';

export const replayCommand: CommandDefinition = {
  define(command, start) {
    replayTakes(command).action((timelines, options) =>
      start(async (io, style) => {
        const { replay } = await import('./run.js');
        return replay(timelines, options, { io, style });
      }),
    );
  },
};
