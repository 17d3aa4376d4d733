// A usage profile as the text of a file of its own.
import { Document, isMap, isScalar, isSeq, visit } from 'yaml';
import type { UsageProfile } from '../types.js';
import { profileEntry } from './profile-entry.js';

/**
 * The text of a profile file; `parseProfile` gives the profile back.
 * @param comment written above it, a line each.
 */
export function profileText(profile: UsageProfile, comment: readonly string[]): string {
  const heading = comment.map((line) => `# ${line.replaceAll(/[\r\n\t]+/g, ' ')}\n`).join('');
  const document = new Document(profileEntry(profile), { version: '1.2' });
  // One line for what belongs together: the hours, a distribution, a day, a fit to resampled days.
  visit(document, {
    Collection: (key, node) => {
      const isLong = isSeq(node) && !node.items.every((item) => isScalar(item));
      const isOuter =
        isMap(node) && (key === null || node.items.some(({ value }) => isOuterValue(value)));
      if (!isLong && !isOuter) node.flow = true;
    },
  });
  return heading + wrapped(document.toString({ lineWidth: 0, flowCollectionPadding: true }));
}

const widest = 110;

/** Long lists go on in further lines: a line of thousands of numbers cannot be changed by hand. They hold no texts with commas. */
function wrapped(text: string): string {
  return text
    .split('\n')
    .map((line) => (line.length > widest ? wrappedLine(line) : line))
    .join('\n');
}

function wrappedLine(line: string): string {
  const lead = `${/^[ -]*/u.exec(line)?.[0].replaceAll('-', ' ') ?? ''}    `;
  const lines: string[] = [];
  let last = '';
  for (const part of line.split(/(?<=,) /u)) {
    if (last !== '' && last.length + 1 + part.length > widest) {
      lines.push(last);
      last = lead + part;
    } else last = last === '' ? part : `${last} ${part}`;
  }
  return [...lines, last].join('\n');
}

function isOuterValue(value: unknown): boolean {
  return (isMap(value) || isSeq(value)) && value.items.length > 0;
}
