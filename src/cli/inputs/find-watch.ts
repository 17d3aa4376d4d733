// Finds the watch file of a command line that names none.
import { stat } from 'node:fs/promises';
import path from 'node:path';
import type { CommandUnknownOpts } from '@commander-js/extra-typings';
import { plain } from '../../base/index.js';
import { lookOf } from '../arguments/watch-choice.js';
import type { Io } from '../host/io.js';

/** As in a folder of scenarios. */
export const watchNames = ['watch.yaml', 'watch.yml', 'watch.json'] as const;

/** Commands that judge by the defaults without a watch file, and do not say so in their answer. */
const unnamed: ReadonlySet<string> = new Set([
  ...['chart', 'hunt', 'rig', 'drill', 'report', 'compare', 'estimate', 'emit'],
]);

/** Sets the option `config` of a command that was called without it, and says which file that is. */
export async function findWatch(command: CommandUnknownOpts, io: Io): Promise<void> {
  const look = lookOf(command);
  if (look === undefined) return;
  const options: Readonly<Record<string, unknown>> = command.opts();
  const given = options['config'];
  if (given === false) {
    command.setOptionValue('config', undefined);
    command.setOptionValue('noConfig', true);
  }
  if (given !== undefined) return;
  const beside = look(command.args, options);
  if (beside === null) return;
  const { timeline } = beside;
  const isFile = timeline !== undefined && timeline !== '-';
  const besideIt = isFile ? path.dirname(timeline) : '.';
  for (const folder of new Set([besideIt, '.'])) {
    for (const name of watchNames) {
      const file = path.join(folder, name);
      if (!(await isThere(file, io))) continue;
      command.setOptionValue('config', file);
      const where = folder === '.' ? 'found in this folder' : 'found beside the timeline';
      await io.stderr.write(
        `watch file: ${plain(file)} (${where}; --no-config takes the defaults)\n`,
      );
      return;
    }
  }
  if (unnamed.has(command.name()) && !isReplay(command)) {
    await io.stderr.write('watch file: none found, so the defaults apply\n');
  }
}

/** Whether a rig runs timelines for a reader: then its answer is that of `replay`, which names the watch file. */
function isReplay(command: CommandUnknownOpts): boolean {
  const { suite, hunt, conform, json }: Readonly<Record<string, unknown>> = command.opts();
  const isOther = (suite ?? hunt ?? conform ?? json) !== undefined;
  return command.name() === 'rig' && command.args.length > 1 && !isOther;
}

async function isThere(file: string, io: Io): Promise<boolean> {
  if (file.includes('\0')) return false;
  const found = await stat(path.resolve(io.folder, file)).catch(() => null);
  return found?.isFile() === true;
}
