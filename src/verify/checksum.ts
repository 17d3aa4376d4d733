// What no reasoning can tell to be changed (which environment was meant, which of many equally good courses was written
// down) carries a checksum against accidents: FNV-1a, 32 bits, of the JSON text without spaces and without the checksum.

/** @param part an object with a `checksum` of its own, whatever it says. */
export function checksumOf(part: object): string {
  const text = JSON.stringify({ ...part, checksum: undefined });
  let hash = 0x811c9dc5;
  for (let index = 0; index < text.length; index += 1) {
    hash = Math.imul(hash ^ text.charCodeAt(index), 0x01000193) >>> 0;
  }
  return hash.toString(16).padStart(8, '0');
}
