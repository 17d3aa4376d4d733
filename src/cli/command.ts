// What the program knows of a command: its name, a line for `--help`, and a definition, which is loaded when the command is
// named. A definition is light; its work is loaded when it runs.
import type { Command } from '@commander-js/extra-typings';
import type { ExitStatus, Io } from './host/io.js';

/** All commands, in the order in which an owner needs them. */
export const commandNames = [
  'init',
  'planner',
  'replay',
  'chart',
  'suite',
  'bounds',
  'verify',
  'hunt',
  'estimate',
  'merge',
  'profile',
  'battery',
  'margin',
  'year',
  'tune',
  'emit',
  'rig',
  'place',
  'drill',
  'compare',
  'silence',
  'report',
  'completion',
] as const;

export interface CommandEntry {
  readonly name: string;
  /** The heading above it in `dozewatch --help`. */
  readonly group: string;
  /** One clause for `dozewatch --help`. */
  readonly summary: string;
  readonly load: () => Promise<CommandDefinition>;
}

export interface CommandDefinition {
  /**
   * Adds arguments, options and help to a command that has its name and summary so far, and an action that gives
   * its work to `start`. `table` is for completion, which needs all the others.
   */
  readonly define: (command: Command, start: Start, table: readonly CommandEntry[]) => void;
}

/** Carries out the work of the one command that was called. */
export type Start = (work: (io: Io, style: Style) => Promise<ExitStatus>) => Promise<void>;

/** Options of the program that every command heeds. */
export interface Style {
  /** False with `--no-color`. */
  readonly colour: boolean;
}

/** The options that a function adds to a command, as they come from a command line. */
export type OptionsOf<Takes extends (command: Command) => { opts(): object }> = Sparse<
  ReturnType<ReturnType<Takes>['opts']>
>;

/** What may be left out may also be undefined. */
type Sparse<T> = {
  readonly [K in keyof T]: Record<never, never> extends Pick<T, K> ? T[K] | undefined : T[K];
};
