// `dozewatch planner`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { plannerTakes } from './options.js';

export const plannerCommand: CommandDefinition = {
  define(command, start) {
    plannerTakes(command).action((timeline, options) =>
      start(async (io, style) => {
        const { planner } = await import('./run.js');
        return planner(timeline, options, { io, style });
      }),
    );
  },
};
