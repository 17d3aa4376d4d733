// The outline of a watch as text that common Markdown viewers draw.
import type { Outline } from './outline.js';

export function mermaidText({ states, always }: Outline): string {
  const lines = states.flatMap(({ kind, title, note, steps }) => [
    `  state "${title}" as ${kind}`,
    `  ${kind} : ${plainWords(note)}`,
    ...steps.map(
      ({ when, then, to }) => `  ${kind} --> ${to} : ${plainWords(`${when} → ${then}`)}`,
    ),
  ]);
  const notes = always.map((words) => `  %% ${words}`);
  return ['stateDiagram-v2', ...notes, '  [*] --> off', ...lines, ''].join('\n');
}

/** Without the signs that end a label. */
function plainWords(words: string): string {
  return words.replaceAll(/[;:#"]/gu, ',');
}
