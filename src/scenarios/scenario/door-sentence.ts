// An opening as a person writes it: "at 08:15 for 40s", "at +11h for 25m ajar 6mm", "from 08:15 until 08:40
// creeping to 10mm (the wind)".
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

const instant = String.raw`(.+?)`;
const sentence = new RegExp(
  `^(?:at |from )?${instant}` +
    String.raw`\s+(?:for\s+(.+?)|(?:until|to|till)\s+(.+?))` +
    String.raw`(?:,?\s+(?:(ajar|closing|creeping)\s*(?:at\s+|to\s+)?|gap\s+)(\d[\d.]*\s*[a-zµ]*))?` +
    String.raw`(?:\s*\(([^()]*)\))?$`,
  'i',
);

/** Takes a sentence apart. Error: `opening-unreadable`. */
export function readDoorSentence(text: string): Decoded<DoorSentence> {
  const [match, at = '', length, until, approach, gap, note] = sentence.exec(text.trim()) ?? [];
  if (match === undefined) {
    const hint = /\b(for|until)\b/.test(text)
      ? undefined
      : 'say for how long, or until when: for 40s, until 08:40, until end';
    return bad('opening-unreadable', 'is no opening', { found: text, expected, hint });
  }
  return good({
    at,
    for: length,
    until,
    gap,
    approach: approach?.toLowerCase() === 'creeping' ? 'creeping' : undefined,
    note: note === undefined || note.trim() === '' ? undefined : note.trim(),
  });
}
