// What the parser of command lines refuses, in the form of every other error: what is wrong, its code, what to do.

interface Refusal {
  readonly pattern: RegExp;
  readonly words: (parts: readonly string[]) => string;
}

const refusals: readonly Refusal[] = [
  {
    pattern: /^required option '(.+)' not specified$/u,
    words: ([flags = '']) =>
      `${flags} is missing [missing-option]\n  hint:  add it to the command line`,
  },
  {
    pattern: /^missing required argument '(.+)'$/u,
    words: ([name = '']) => `<${name}> is missing [missing-argument]`,
  },
  {
    pattern:
      /^command-argument value '([\s\S]*)' is invalid for argument '(.+?)'\. Allowed choices are (.+)\.$/u,
    words: ([found = '', name = '', choices = '']) =>
      `<${name}>: this is not one of the choices [not-a-choice]\n  found:     ${found}\n  expected:  ${choices}`,
  },
  {
    pattern: /^option '(.+?)' argument '([\s\S]*)' is invalid\. Allowed choices are (.+)\.$/u,
    words: ([flags = '', found = '', choices = '']) =>
      `${flags}: this is not one of the choices [not-a-choice]\n  found:     ${found}\n  expected:  ${choices}`,
  },
];

const codes: readonly (readonly [pattern: RegExp, code: string])[] = [
  [/^unknown option/u, 'unknown-option'],
  [/^unknown command/u, 'unknown-command'],
  [/^too many arguments/u, 'too-many-arguments'],
  [/argument missing/u, 'missing-value'],
  [/is given twice$/u, 'option-twice'],
];

/** @param text as the parser prints it, with `error: ` in front. */
export function houseError(text: string): string {
  const message = text.startsWith('error: ') ? text.slice('error: '.length).trimEnd() : undefined;
  if (message === undefined) return text;
  for (const { pattern, words } of refusals) {
    const [, ...parts] = pattern.exec(message) ?? [];
    if (parts.length > 0) return `error: ${words(parts)}\n`;
  }
  const code = codes.find(([pattern]) => pattern.test(message))?.[1];
  if (code === undefined) return text;
  const [first = '', ...more] = message.split('\n');
  return `error: ${[`${first} [${code}]`, ...more].join('\n')}\n`;
}
