// What the core may use of the globals that every engine has besides the language's own, for its check without Node's
// types. WHATWG Encoding Standard.
declare class TextDecoder {
  /** UTF-8, malformed bytes as U+FFFD. */
  decode(bytes: Uint8Array): string;
}
