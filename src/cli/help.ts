// How `--help` is laid out: on about a screen, with the options that few people need named only; `--help-all` explains each.
import type { Command, CommandUnknownOpts, Help, Option } from '@commander-js/extra-typings';
import { wrapped } from './layout/print.js';

export const fullHelp = '--help-all';

/** Comes behind all other groups of options. */
const lastGroup = 'Rarely needed:';

/** Groups whose options `--help` only names: settings that stand in the watch file as well, and what few people need. */
const namedOnly: readonly RegExp[] = [
  /^Settings that override the watch file:$/u,
  /^What may go wrong /u,
  /^Door logs:$/u,
  /^How it is compiled:$/u,
  /^The device log:$/u,
  /^How pictures look:$/u,
  /^For --hunt and --conform:$/u,
  /^Rarely needed:$/u,
];
/** A shorter group is explained anyway: naming it would save no line. */
const leastNamed = 3;
const nameColumns = 98;

interface Layout extends Partial<Help> {
  /** Every option is explained. */
  readonly isFull?: boolean;
}

/** Whether a command shows its `--help-all`, which has room for more than a screen. */
export function showsAll(command: Pick<CommandUnknownOpts, 'configureHelp'>): boolean {
  const layout: Layout = command.configureHelp();
  return layout.isFull === true;
}

export function helpLayout({ isFull }: { readonly isFull: boolean }): Layout {
  return {
    isFull,
    subcommandTerm: (command) => command.name(),
    groupItems: rareLast,
    commandDescription: (command) => command.description().replaceAll('\n', ' '),
    optionDescription: ({ description, argChoices, defaultValue }) =>
      `${description}${remark(argChoices, defaultValue)}`,
    argumentDescription: ({ description, argChoices, defaultValue }) =>
      `${description}${remark(argChoices, defaultValue)}`,
    formatItemList(heading, items, helper) {
      if (items.length === 0) return [];
      const isNamed = items.length >= leastNamed && namedOnly.some((group) => group.test(heading));
      if (isFull || !isNamed) return [helper.styleTitle(heading), ...items, ''];
      const names = items.map((item) => /--[\w-]+/u.exec(item)?.[0] ?? item.trim());
      const title = heading.replace(/:$/u, ` (${fullHelp} explains them):`);
      return [helper.styleTitle(title), indented(names.join(', '), helper.helpWidth), ''];
    },
  };
}

function remark(choices: readonly string[] | undefined, preset: unknown): string {
  const parts = [
    choices === undefined ? '' : choices.join(', '),
    typeof preset === 'string' || typeof preset === 'number' ? `default: ${String(preset)}` : '',
  ].filter((part) => part !== '');
  return parts.length === 0 ? '' : ` (${parts.join('; ')})`;
}

/** The groups in the order in which they were begun, but for the one that comes last. */
function rareLast<T extends Command | Option>(
  items: readonly T[],
  visible: readonly T[],
  groupOf: (item: T) => string,
): Map<string, T[]> {
  const names = [...new Set([...items, ...visible].map(groupOf))];
  const ordered = [...names.filter((name) => name !== lastGroup), lastGroup];
  const groups = ordered.map(
    (name) => [name, visible.filter((item) => groupOf(item) === name)] satisfies [string, T[]],
  );
  return new Map(groups);
}

function indented(text: string, width = nameColumns): string {
  return wrapped(text, Math.min(nameColumns, width - 2))
    .split('\n')
    .map((line) => `  ${line}`)
    .join('\n');
}
