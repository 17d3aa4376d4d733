// The device log of `compare`: its options, its zone, and lines of text that a pattern takes apart.

import { createContext, Script } from 'node:vm';
import type { Diagnostic } from '../../base/index.js';
import { mostMatchMs, mostSerialCharacters } from '../../model/index.js';
import { type DeviceLine, type DeviceLogRow, parseDeviceLog } from '../../scenarios/index.js';
import type { DeviceLogReading } from '../arguments/device-log-options.js';
import { conditionsOf } from '../arguments/repeated.js';
import type { Io } from '../host/io.js';
import { readText } from '../host/read-text.js';
import { InputProblem, problem, valueOfFile } from '../problem.js';

export interface LoadedDeviceLog {
  readonly rows: readonly DeviceLogRow[];
  /** Of times without an offset. */
  readonly zone: string;
  /** Whether the log has times without an offset, which the zone is for. */
  readonly hasLocalTimes: () => boolean;
  readonly remarks: readonly Diagnostic[];
}

/** @throws InputProblem for a log that cannot be read or believed. */
export async function loadDeviceLog(
  file: string,
  options: DeviceLogReading,
  {
    io,
    zone: other,
  }: {
    readonly io: Io;
    /** Of times without an offset, where no option names one; and whether it is that of a door log. */
    readonly zone: { readonly name: string; readonly isOfDoor?: boolean };
  },
): Promise<LoadedDeviceLog> {
  const named = options.deviceZone ?? options.zone;
  const text = await readText(file, io);
  const taken = options.linePattern === undefined ? null : linesOf(text, options.linePattern, file);
  const read = (zone: string | null) =>
    parseDeviceLog(text, file, {
      zone,
      timeFormat: options.deviceTimeFormat ?? options.timeFormat,
      newestFirst: options.deviceNewestFirst,
      timeColumn: options.deviceTimeColumn,
      eventColumn: options.deviceEventColumn,
      valueColumn: options.deviceValueColumn,
      openWords: options.openWord,
      shutWords: options.shutWord,
      eventWords: eventWordsOf(options.deviceEventWord),
      where: conditionsOf(options.where),
      lines: taken?.lines,
    });
  // Without a zone, times without an offset are found, and then read in the zone of the door.
  const first = read(named ?? null);
  const isLocal = first.ok && first.warnings.length > 0;
  const result = isLocal ? read(other.name) : first;
  if (!result.ok && taken !== null) throw new InputProblem(result.errors);
  const rows = valueOfFile(result, text, { file, wanted: 'device log' });
  const zone = named ?? other.name;
  const remarks = [...(isLocal ? [inZoneOf(file, other)] : []), ...(taken?.remarks ?? [])];
  const hasLocalTimes = (): boolean => {
    const without = named === undefined ? first : read(null);
    return without.ok && without.warnings.length > 0;
  };
  return { rows, zone, hasLocalTimes, remarks };
}

function inZoneOf(
  file: string,
  { name, isOfDoor }: { readonly name: string; readonly isOfDoor?: boolean },
): Diagnostic {
  return {
    code: 'times-in-zone-of-door',
    severity: 'warning',
    source: { file },
    message: `times without an offset are read ${isOfDoor === true ? 'in the zone of the door, ' : 'as '}${name}`,
    hint: `if they are in another zone, name it with ${isOfDoor === true ? '--device-zone' : '--zone'}`,
  };
}

/** @throws InputProblem for one that is not a word and an event. */
function eventWordsOf(
  texts: readonly string[] | undefined,
): readonly (readonly [string, string])[] {
  const events = ['power-on', 'reset', 'check', 'alert', 'heartbeat', 'low-battery'];
  return (texts ?? []).map((text) => {
    const [word = '', event = ''] = text.split('=', 2);
    if (word !== '' && events.includes(event)) return [word, event];
    throw problem('event-word-unreadable', '--device-event-word', {
      message: 'this is not a word and an event',
      found: text,
      expected: `word=event, such as chk=check; events are ${events.join(', ')}`,
    });
  });
}

interface TakenLines {
  readonly lines: readonly DeviceLine[];
  readonly remarks: readonly Diagnostic[];
}

/** @throws InputProblem for a pattern that is not one, lacks a group, takes too long, or fits no line. */
function linesOf(text: string, pattern: string, file: string): TakenLines {
  checkPattern(pattern);
  const lines = text.split(/\r?\n/u);
  const short = lines.map((line) => (line.length > mostSerialCharacters ? '' : line));
  const groups = matched(short, pattern);
  const taken = groups.flatMap((one, index): DeviceLine[] => {
    if (one === null) return [];
    const [time = '', event = '', value = ''] = one;
    return [{ line: index + 1, time: time.trim(), event: event.trim(), value: value.trim() }];
  });
  const written = lines.filter((line) => line.trim() !== '').length;
  if (taken.length === 0) {
    throw problem('line-pattern-fits-nothing', '--line-pattern', {
      message: `no line of ${file} fits this pattern`,
      found: pattern,
      expected: `a pattern for lines such as ${lines.find((line) => line.trim() !== '') ?? ''}`,
    });
  }
  const rest = written - taken.length;
  if (rest === 0) return { lines: taken, remarks: [] };
  const message = `left out ${rest === 1 ? '1 line' : `${String(rest)} lines`} that the pattern does not fit`;
  const remark: Diagnostic = {
    code: 'lines-left-out',
    severity: 'warning',
    source: { file },
    message,
  };
  return { lines: taken, remarks: [remark] };
}

function checkPattern(pattern: string): void {
  try {
    new RegExp(pattern, 'u');
  } catch (error) {
    throw problem('line-pattern-unreadable', '--line-pattern', {
      message: 'this is not a regular expression',
      found: pattern,
      expected: error instanceof Error ? error.message : '',
    });
  }
  const missing = ['time', 'event'].find((name) => !pattern.includes(`(?<${name}>`));
  if (missing === undefined) return;
  throw problem('line-pattern-unreadable', '--line-pattern', {
    message: `this pattern has no group ${missing}`,
    found: pattern,
    expected: 'the groups (?<time>…), (?<event>…) and perhaps (?<value>…)',
  });
}

const matchAll = new Script(`lines.map((line) => {
  const groups = pattern.exec(line)?.groups;
  return groups === undefined ? null : [groups.time, groups.event, groups.value ?? ''];
})`);

/** The engine stops in the middle of a match when its time is over. */
function matched(lines: readonly string[], pattern: string): readonly (readonly string[] | null)[] {
  const context = createContext({ lines, pattern: new RegExp(pattern, 'u') });
  try {
    const found: unknown = matchAll.runInContext(context, { timeout: mostMatchMs });
    return Array.isArray(found) ? found.map(textsOf) : [];
  } catch {
    throw problem('line-pattern-too-slow', '--line-pattern', {
      message: `this pattern takes more than ${String(mostMatchMs / 1_000)} s on these lines`,
      found: pattern,
      hint: 'avoid a repetition inside another, such as (a+)+',
    });
  }
}

function textsOf(value: unknown): readonly string[] | null {
  return Array.isArray(value)
    ? value.map((text: unknown) => (typeof text === 'string' ? text : ''))
    : null;
}
