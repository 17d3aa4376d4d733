// `dozewatch margin`: its definition is light, and its work is loaded when it runs.
import type { CommandDefinition } from '../command.js';
import { marginTakes } from './options.js';

export const marginCommand: CommandDefinition = {
  define(command, start) {
    marginTakes(command).action((options) =>
      start(async (io, style) => {
        const { margin } = await import('./run.js');
        return margin(options, { io, style });
      }),
    );
  },
};
