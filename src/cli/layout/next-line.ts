// The last line of a report: the one command line that is worth running next.
import { plain, shellWord, writeDuration } from '../../base/index.js';
import type { WatchFile } from '../../scenarios/index.js';

/**
 * `Next: why each was missed: dozewatch replay day.yaml -c watch.yaml`; empty where an input was standard input, which cannot be
 * read again.
 * @param why what the command shows. @param words the command's name and what it takes.
 */
export function nextLine(why: string, words: readonly string[]): string {
  if (words.includes('-')) return '';
  return `\nNext: ${why}: ${plain(['dozewatch', ...words.map(shellWord)].join(' '))}\n`;
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

/** Options as they were typed. @param leftOut keys of those that the next command does not take, or that are given apart. */
export function optionWords(
  options: Readonly<Record<string, unknown>>,
  leftOut: readonly string[],
): readonly string[] {
  return Object.entries(options).flatMap(([key, value]): readonly string[] => {
    if (leftOut.includes(key)) return [];
    const flag = `--${key.replaceAll(/[A-Z]/gu, (letter) => `-${letter.toLowerCase()}`)}`;
    if (value === true) return [flag];
    const values: readonly unknown[] = Array.isArray(value) ? value : [value];
    return values.flatMap((one) => (typeof one === 'string' ? [flag, one] : []));
  });
}
