// A document as its reader goes through it: files to write, commands to run, and what these print.
//
// A fenced block of `sh` is run, one command per line; a comment with "status 1" after a command gives its exit status,
// which is 0 without one. A fenced block of `text` right below shows exactly what these commands print: a line
// `…` means any lines, a `…` at the end of a line means the rest of it. `<!-- file: NAME -->` above a block of another
// kind names the file to write; `<!-- not run: WHY -->` above commands leaves them out.

export interface Command {
  readonly line: string;
  readonly status: number;
}

export type Step =
  | { readonly kind: 'file'; readonly title: string; readonly text: string }
  | {
      readonly kind: 'run';
      readonly title: string;
      readonly commands: readonly Command[];
      readonly shown: RegExp | null;
    };

/** The steps of a Markdown document, in order. */
export function stepsOf(markdown: string): readonly Step[] {
  const block =
    /(?:^<!-- (?:file: (?<name>\S+)|(?<out>not run): .*) -->\n+)?^```(?<kind>\w*)\n(?<body>[\s\S]*?)^```\n(?:\s*^```text\n(?<shown>[\s\S]*?)^```$)?/gmu;
  return Array.from(markdown.matchAll(block), ({ groups = {} }) => groups).flatMap(
    ({ name, out, kind, body = '', shown }): Step[] => {
      if (name !== undefined) return [{ kind: 'file', title: name, text: body }];
      if (kind !== 'sh' || out !== undefined) return [];
      const commands = commandsOf(body);
      const title = commands[0]?.line ?? '';
      return [{ kind: 'run', commands, title, shown: shown === undefined ? null : printed(shown) }];
    },
  );
}

function commandsOf(body: string): readonly Command[] {
  const lines = body
    .replaceAll('\\\n', ' ')
    .split('\n')
    .filter((line) => /^\w/u.test(line));
  return lines.map((line) => ({ line, status: Number(/ #.* status (\d+)/u.exec(line)?.[1] ?? 0) }));
}

/** What prints as a document shows it. */
export function printed(shown: string): RegExp {
  const lines = shown
    .trimEnd()
    .split('\n')
    .map((line) => {
      if (line === '…') return '(?:.*\\n)*?';
      const rest = line.endsWith('…') ? '.*' : '';
      const said = rest === '' ? line : line.slice(0, -1);
      return `${said.replaceAll(/[$()*+.?[\\\]^{|}]/gu, '\\$&')}${rest}\\n`;
    });
  return new RegExp(`^${lines.join('')}$`, 'u');
}
