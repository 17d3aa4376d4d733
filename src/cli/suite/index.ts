// `dozewatch suite`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { suiteTakes } from './options.js';

export const suiteCommand: CommandDefinition = {
  define(command, start) {
    suiteTakes(command).action((folder, options) =>
      start(async (io, style) => {
        if (options.onChange === true) {
          const { suiteOnChange } = await import('./on-change.js');
          return suiteOnChange(folder, options, { io, style });
        }
        const { suite } = await import('./run.js');
        return suite(folder, options, { io, style });
      }),
    );
  },
};
