// JSON looked at character by character before a parser or a regular expression sees it: how deep it nests, and where its
// quoted texts end. Takes one pass, however long a text is, and no stack.

const quote = 34;
const backslash = 92;

/** Where a text in quotes ends that begins at an offset: just after its last quote, or at the end of everything. */
export function quotedEnd(json: string, start: number): number {
  for (let at = json.indexOf('"', start + 1); at >= 0; at = json.indexOf('"', at + 1)) {
    let before = at - 1;
    while (json.charCodeAt(before) === backslash) before -= 1;
    // An even number of backslashes are characters by themselves; the last of an odd number takes the quote.
    if ((at - before) % 2 === 1) return at + 1;
  }
  return json.length;
}

/** Where JSON, which may be broken, opens a bracket too many; null: nowhere. Brackets in quotes do not count. */
export function firstTooDeep(json: string, mostLevels: number): number | null {
  let depth = 0;
  for (let at = 0; at < json.length; at += 1) {
    const code = json.charCodeAt(at);
    if (code === quote) at = quotedEnd(json, at) - 1;
    else if (isOpening(code)) depth += 1;
    else if (isClosing(code)) depth = Math.max(0, depth - 1);
    if (depth > mostLevels) return at;
  }
  return null;
}

function isOpening(code: number): boolean {
  return code === 0x5b || code === 0x7b;
}

function isClosing(code: number): boolean {
  return code === 0x5d || code === 0x7d;
}
