// "Did you mean": the known word nearest to what was written.

/** The nearest of `words`, if it is near enough to be a slip of the finger. */
function nearest(written: string, words: readonly string[]): string | undefined {
  const wanted = plain(written);
  let best: string | undefined;
  let bestDistance = Math.max(1, Math.floor(wanted.length / 3)) + 1;
  for (const word of words) {
    const known = plain(word);
    const distance = editDistance(wanted, known, bestDistance);
    // With no letter in common it is no slip.
    if (distance < bestDistance && distance < Math.max(wanted.length, known.length)) {
      best = word;
      bestDistance = distance;
    }
  }
  if (best !== undefined || wanted.length < 3) return best;
  // Half a word, or a word with more behind it.
  return words.find((word) => plain(word).startsWith(wanted) || wanted.startsWith(plain(word)));
}

/** A hint in words, or none. */
export function didYouMean(written: string, words: readonly string[]): string | undefined {
  const word = nearest(written, words);
  return word === undefined ? undefined : `did you mean ${word}?`;
}

/** `check_interval`, `check-interval` and `CheckInterval` are all one word. */
function plain(word: string): string {
  return word
    .slice(0, 64)
    .toLowerCase()
    .replaceAll(/[-_\s]/g, '');
}

/** Insertions, deletions, replacements and swaps of neighbours, counted no further than `limit`. */
function editDistance(a: string, b: string, limit: number): number {
  if (Math.abs(a.length - b.length) >= limit) return limit;
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1];
      let cost = Math.min(
        (last[j] ?? 0) + 1,
        (row[j - 1] ?? 0) + 1,
        (last[j - 1] ?? 0) + (same ? 0 : 1),
      );
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) cost = Math.min(cost, (before[j - 2] ?? 0) + 1);
      row.push(cost);
    }
    before = last;
    last = row;
  }
  return last[b.length] ?? limit;
}
