// Options of every command that reads a log of the real device.
import type { Command, OptionValues } from '@commander-js/extra-typings';
import type { OptionsOf } from '../command.js';
import { collected } from './repeated.js';
import type { LogOptions } from './timeline-options.js';

/** Adds how to read a device log. */
export function withDeviceLogOptions<Args extends unknown[], Opts extends OptionValues>(
  command: Command<Args, Opts>,
) {
  return command
    .optionsGroup('The device log:')
    .option('--line-pattern <regex>', 'takes lines of text apart: groups time, event and value')
    .option('--device-zone <zone>', 'zone of its times without an offset (default: --zone)')
    .option('--device-time-format <pattern>', 'form of its times (default: --time-format)')
    .option('--device-newest-first', 'read its rows from the last to the first')
    .option('--device-time-column <name>', 'column with the time')
    .option('--device-event-column <name>', 'column with the event')
    .option('--device-value-column <name>', 'column with what was read, or the outcome of a send')
    .option(
      '--device-event-word <word=event>',
      'a word for an event; repeat it for more',
      collected,
    );
}

/** What was typed about a device log, and what it takes from the options for door logs. */
export type DeviceLogReading = OptionsOf<typeof withDeviceLogOptions<[], Record<never, never>>> &
  Pick<LogOptions, 'zone' | 'timeFormat' | 'openWord' | 'shutWord' | 'where'>;
