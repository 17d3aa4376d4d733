// Days as an iCalendar file (RFC 5545): one all-day event each, lines folded at 75 octets and ended by CRLF.

/** @param days as `20260504`; @param stamp as `20260504T000000Z`, so that the same question gives the same bytes. */
export function calendarText(
  days: readonly string[],
  { summary, stamp }: { readonly summary: string; readonly stamp: string },
): string {
  const events = days.flatMap((day) => [
    'BEGIN:VEVENT',
    `UID:charge-${day}@dozewatch.invalid`,
    `DTSTAMP:${stamp}`,
    `DTSTART;VALUE=DATE:${day}`,
    `SUMMARY:${escaped(summary)}`,
    'TRANSP:TRANSPARENT',
    'END:VEVENT',
  ]);
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//dozewatch//year//EN',
    'CALSCALE:GREGORIAN',
    ...events,
    'END:VCALENDAR',
  ];
  return lines.map((line) => `${folded(line)}\r\n`).join('');
}

/** Section 3.3.11: backslashes, semicolons, commas and ends of lines. */
function escaped(text: string): string {
  return text
    .replaceAll('\\', '\\\\')
    .replaceAll(';', '\\;')
    .replaceAll(',', '\\,')
    .replaceAll(/\r?\n/gu, '\\n');
}

const mostOctets = 75;

/** Section 3.1: a longer line goes on in the next, after a space. No character is cut in two. */
function folded(line: string): string {
  let text = '';
  let octets = 0;
  for (const character of line) {
    const size = octetsOf(character);
    if (octets + size > mostOctets) {
      text += '\r\n ';
      octets = 1;
    }
    text += character;
    octets += size;
  }
  return text;
}

function octetsOf(character: string): number {
  const code = character.codePointAt(0) ?? 0;
  if (code < 0x80) return 1;
  if (code < 0x800) return 2;
  return code < 0x1_00_00 ? 3 : 4;
}
