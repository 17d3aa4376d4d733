/** Bytes of UTF-8 as text; malformed ones become U+FFFD. */
export function utf8Text(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes);
}
