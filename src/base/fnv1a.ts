/** FNV-1a, 32 bits, of the UTF-16 units of a text (after draft-eastlake-fnv, recalled): it finds slips, not forgeries. */
export function fnv1a32(text: string): number {
  let hash = 0x811c9dc5;
  for (let at = 0; at < text.length; at += 1) {
    hash = Math.imul(hash ^ text.charCodeAt(at), 0x01000193) >>> 0;
  }
  return hash;
}
