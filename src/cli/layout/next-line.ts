// The last line of a report: the one command line that is worth running next.
import { Command } from '@commander-js/extra-typings';
import { plain, shellWord, writeDuration } from '../../base/index.js';
import type { WatchFile } from '../../scenarios/index.js';

/**
 * `Next: why each was missed: dozewatch replay day.yaml -c watch.yaml`; empty where an input was standard input, which cannot be
 * read again.
 * @param why what the command shows. @param words the command's name and what it takes.
 */
export function nextLine(why: string, words: readonly string[]): string {
  if (words.includes('-')) return '';
  return `\nNext: ${why}: ${dozewatchLine(words)}\n`;
}

/** @param words the command's name and what it takes. */
export function dozewatchLine(words: readonly string[]): string {
  return plain(['dozewatch', ...words.map(shellWord)].join(' '));
}

/** The watch that a run had. @param name null: the defaults. @param options what was typed, of which `--no-config` and `--logic` count. */
export function watchWords(
  name: string | null,
  options: Readonly<Record<string, unknown>> = {},
): readonly string[] {
  const { noConfig, logic } = options;
  return [
    ...(name !== null ? ['-c', name] : noConfig === true ? ['--no-config'] : []),
    ...(typeof logic === 'string' ? ['--logic', logic] : []),
  ];
}

/**
 * The proof of the watch that a run had. Without a file `bounds` judges nothing unless a requirement is stated: then it is the one
 * that the run had.
 */
export function boundsWords(
  { name, watchFile }: { readonly name: string | null; readonly watchFile: WatchFile },
  options: Readonly<Record<string, unknown>> = {},
): readonly string[] {
  const required =
    name === null ? ['--leave-open-after', writeDuration(watchFile.judge.leaveOpenAfterMs)] : [];
  return ['bounds', ...watchWords(name, options), ...required];
}

/** What a command takes, such as `tuneTakes`. */
export type Takes = (command: Command) => {
  readonly options: readonly {
    readonly attributeName: () => string;
    readonly defaultValue?: unknown;
  }[];
};

/**
 * Options as they were typed. @param leftOut keys of those that mean something else to the next command, or that are given apart.
 * @param takes what the next command takes, where it is another one: options that it does not know, and its defaults, are left out.
 */
export function optionWords(
  options: Readonly<Record<string, unknown>>,
  leftOut: readonly string[],
  takes?: Takes,
): readonly string[] {
  const known = takes?.(new Command()).options;
  return Object.entries(options).flatMap(([key, value]): readonly string[] => {
    const next = known?.find((option) => option.attributeName() === key);
    if (leftOut.includes(key) || (known !== undefined && next === undefined)) return [];
    if (next !== undefined && next.defaultValue === value) return [];
    const flag = `--${key.replaceAll(/[A-Z]/gu, (letter) => `-${letter.toLowerCase()}`)}`;
    if (value === true) return [flag];
    const values: readonly unknown[] = Array.isArray(value) ? value : [value];
    return values.flatMap((one) =>
      typeof one === 'string' || typeof one === 'number' ? [flag, String(one)] : [],
    );
  });
}
