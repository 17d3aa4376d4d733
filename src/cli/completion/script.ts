// Scripts by which shells complete command lines. Nothing in them runs dozewatch: they hold all that they offer.
import { unreachable } from '../../base/index.js';

export type Shell = 'bash' | 'zsh' | 'fish';

export interface CompletedOption {
  readonly long: string;
  readonly short: string | null;
  readonly description: string;
  readonly takesValue: boolean;
  /** Empty: any value, often a file. */
  readonly choices: readonly string[];
}

export interface CompletedCommand {
  readonly name: string;
  readonly summary: string;
  /** What its argument must be one of; empty: a file, as a rule. */
  readonly words: readonly string[];
  readonly options: readonly CompletedOption[];
}

export function completionScript(shell: Shell, commands: readonly CompletedCommand[]): string {
  switch (shell) {
    case 'bash':
      return bashScript(commands);
    case 'zsh':
      return zshScript(commands);
    case 'fish':
      return fishScript(commands);
    default:
      return unreachable(shell);
  }
}

/** A description in one line. */
function oneLine(text: string): string {
  return text.replace(/\s+/gu, ' ').trim();
}

/** A text in single quotes. */
function quoted(text: string): string {
  return `'${text.replaceAll("'", "'\\''")}'`;
}

function namesOf({ long, short }: CompletedOption): readonly string[] {
  return [long, ...(short === null ? [] : [short])].filter((name) => name !== '');
}

function bashScript(commands: readonly CompletedCommand[]): string {
  const values = commands.flatMap(({ name, options }) =>
    options
      .filter(({ choices }) => choices.length > 0)
      .map((option) => {
        const cases = namesOf(option).map((flag) => `${name}:${flag}`);
        return `    ${cases.join('|')}) words=${quoted(option.choices.join(' '))} ;;`;
      }),
  );
  const flags = commands.map(
    ({ name, options }) => `      ${name}) words=${quoted(options.flatMap(namesOf).join(' '))} ;;`,
  );
  const words = commands
    .filter((command) => command.words.length > 0)
    .map((command) => `      ${command.name}) words=${quoted(command.words.join(' '))} ;;`);
  const names = commands.map(({ name }) => name);
  return `# dozewatch completion for bash
_dozewatch() {
  local current="\${COMP_WORDS[COMP_CWORD]}" previous="\${COMP_WORDS[COMP_CWORD-1]}"
  local command='' words='' word
  for word in "\${COMP_WORDS[@]:1:COMP_CWORD-1}"; do
    case "$word" in ${names.join('|')}) command="$word"; break ;; esac
  done
  case "$command:$previous" in
${values.join('\n')}
  esac
  if [[ -z "$words" && -z "$command" ]]; then
    words=${quoted([...names, '--help', '--version', '--no-color'].join(' '))}
  elif [[ -z "$words" && "$current" == -* ]]; then
    case "$command" in
${flags.join('\n')}
    esac
  elif [[ -z "$words" ]]; then
    case "$command" in
${words.join('\n')}
    esac
  fi
  COMPREPLY=()
  if [[ -n "$words" ]]; then
    while IFS= read -r word; do COMPREPLY+=("$word"); done < <(compgen -W "$words" -- "$current")
  else
    while IFS= read -r word; do COMPREPLY+=("$word"); done < <(compgen -f -- "$current")
    compopt -o filenames 2>/dev/null
  fi
}
complete -F _dozewatch dozewatch
`;
}

function zshScript(commands: readonly CompletedCommand[]): string {
  const described = commands.map(({ name, summary }) => `    ${quoted(`${name}:${summary}`)}`);
  const cases = commands.map(({ name, options, words }) => {
    const specs = options.flatMap((option) => namesOf(option).map((flag) => zshSpec(flag, option)));
    const rest = words.length > 0 ? `*:word:(${words.join(' ')})` : '*:file:_files';
    return `    ${name})\n      _arguments ${[...specs, rest].map(quoted).join(' \\\n        ')} ;;`;
  });
  return `#compdef dozewatch
_dozewatch() {
  local -a commands
  commands=(
${described.join('\n')}
  )
  if (( CURRENT == 2 )); then
    _describe command commands
    return
  fi
  local command="$words[2]"
  words=("\${words[@]:1}")
  (( CURRENT-- ))
  case "$command" in
${cases.join('\n')}
  esac
}
if [ "$funcstack[1]" = "_dozewatch" ]; then _dozewatch "$@"; else compdef _dozewatch dozewatch; fi
`;
}

function zshSpec(flag: string, { description, takesValue, choices }: CompletedOption): string {
  const words = oneLine(description).replace(/[[\]:\\]/gu, '\\$&');
  const value = choices.length > 0 ? `:value:(${choices.join(' ')})` : ':value:_files';
  return `${flag}[${words}]${takesValue ? value : ''}`;
}

function fishScript(commands: readonly CompletedCommand[]): string {
  const names = commands.map(({ name }) => name).join(' ');
  const lines = commands.flatMap(({ name, summary, options, words }) => [
    `complete -c dozewatch -n ${quoted(`not __fish_seen_subcommand_from ${names}`)} -f -a ${name} -d ${quoted(summary)}`,
    ...(words.length > 0
      ? [`complete -c dozewatch -n ${quoted(seen(name))} -f -a ${quoted(words.join(' '))}`]
      : []),
    ...options.map((option) => fishLine(name, option)),
  ]);
  return `# dozewatch completion for fish\n${lines.join('\n')}\n`;
}

function seen(name: string): string {
  return `__fish_seen_subcommand_from ${name}`;
}

function fishLine(name: string, option: CompletedOption): string {
  const { long, short, description, takesValue, choices } = option;
  const parts = [
    `complete -c dozewatch -n ${quoted(seen(name))}`,
    long === '' ? '' : `-l ${long.slice(2)}`,
    short === null ? '' : `-s ${short.slice(1)}`,
    takesValue ? '-r' : '',
    choices.length > 0 ? `-f -a ${quoted(choices.join(' '))}` : '',
    `-d ${quoted(oneLine(description))}`,
  ];
  return parts.filter((part) => part !== '').join(' ');
}
