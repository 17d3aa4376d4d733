// An opening as a person writes it: "at 08:15 for 40s", "at +11h for 25m ajar 6mm", "from 08:15 until 08:40
// creeping to 10mm (the wind)".
import { mostQuantityCharacters } from '../../model/index.js';
import { bad, type Decoded, good } from '../text/problem.js';

/** The parts of the sentence, still text. */
export interface DoorSentence {
  readonly at: string;
  readonly for?: string | undefined;
  readonly until?: string | undefined;
  readonly gap?: string | undefined;
  readonly approach?: 'closing' | 'creeping' | undefined;
  readonly note?: string | undefined;
}

const expected = 'a sentence such as "at 08:15 for 40s" or "at +11h for 25m ajar 6mm"';

const ends: ReadonlyMap<string, 'for' | 'until'> = new Map([
  ['for', 'for'],
  ['until', 'until'],
  ['to', 'until'],
  ['till', 'until'],
]);

/** At most: `creeping`, `to`, `10`, `mm`. */
const mostGapWords = 4;
const gapWords = /^(?:(ajar|closing|creeping)\s*(?:at\s+|to\s+)?|gap\s+)(\d[\d.]*\s*[a-zµ]*)$/i;

/** Takes a sentence apart, word by word. Error: `opening-unreadable`. */
export function readDoorSentence(text: string): Decoded<DoorSentence> {
  const { sentence, note } = withoutNote(text.trim());
  const words = sentence.length > mostQuantityCharacters ? [] : sentence.split(/\s+/);
  const named = /^(?:at|from)$/i.test(words[0] ?? '') && !ends.has(plain(words[1])) ? 1 : 0;
  const joint = words.findIndex((word, index) => index > named && ends.has(plain(word)));
  const rest = words.slice(joint + 1);
  if (joint < 0 || rest.length === 0) {
    const hint = words.some((word) => ends.has(plain(word)))
      ? undefined
      : 'add its length or its end: for 40s, until 08:40, until end';
    return bad('opening-unreadable', 'is not an opening', { found: text, expected, hint });
  }
  const { span, gap, approach } = withoutGap(rest);
  const isLength = ends.get(plain(words[joint])) === 'for';
  return good({
    at: words.slice(named, joint).join(' '),
    for: isLength ? span : undefined,
    until: isLength ? undefined : span,
    gap,
    approach: approach === 'creeping' ? 'creeping' : undefined,
    note,
  });
}

function plain(word: string | undefined): string {
  return (word ?? '').toLowerCase();
}

/** A note in brackets ends the sentence. */
function withoutNote(text: string): { readonly sentence: string; readonly note?: string } {
  const bracket = text.endsWith(')') ? text.lastIndexOf('(') : -1;
  const note = text.slice(bracket + 1, -1).trim();
  if (bracket < 0 || note.includes(')')) return { sentence: text };
  const sentence = text.slice(0, bracket).trimEnd();
  return note === '' ? { sentence } : { sentence, note };
}

/** How far the door is open stands last: `25m ajar 6mm`. */
function withoutGap(words: readonly string[]): {
  readonly span: string;
  readonly gap?: string | undefined;
  readonly approach?: string | undefined;
} {
  for (let count = Math.min(mostGapWords, words.length - 1); count > 0; count -= 1) {
    const [match, approach, gap] = gapWords.exec(words.slice(-count).join(' ')) ?? [];
    if (match === undefined) continue;
    const span = words.slice(0, -count).join(' ');
    return { span: span.replace(/,$/, ''), gap, approach: approach?.toLowerCase() };
  }
  return { span: words.join(' ') };
}
