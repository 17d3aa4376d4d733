// `dozewatch completion`: its argument and help.

import type { Command } from '@commander-js/extra-typings';
import { Argument } from '@commander-js/extra-typings';

const afterHelp = `
Examples:
  dozewatch completion bash >> ~/.bashrc
  dozewatch completion zsh > "\${fpath[1]}/_dozewatch"
  dozewatch completion fish > ~/.config/fish/completions/dozewatch.fish

The script completes the word dozewatch, which must be a command of your shell: npm install -g puts it
there, or alias dozewatch='npx dozewatch'. Open a new shell afterwards.

Exit status: 0 when the script is printed.
`;

/** Adds what `completion` takes. */
export function completionTakes(command: Command) {
  return command
    .description(
      'Prints a script with which a shell completes the commands and options of dozewatch.',
    )
    .addArgument(new Argument('<shell>', 'which shell').choices(['bash', 'zsh', 'fish']))
    .option('--json', 'print what can be completed as JSON, schema dozewatch/completion/1')
    .addHelpText('after', afterHelp);
}
