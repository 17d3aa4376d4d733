// `dozewatch battery`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { batteryTakes } from './options.js';

export const batteryCommand: CommandDefinition = {
  define(command, start) {
    batteryTakes(command).action((timelines, options) =>
      start(async (io, style) => {
        const { battery } = await import('./run.js');
        return battery(timelines, options, { io, style });
      }),
    );
  },
};
