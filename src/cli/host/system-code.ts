// The code by which a system refuses something.

/** `ENOENT` and the like, of an error that has one. */
export function systemCode(error: unknown): string | undefined {
  if (!(error instanceof Error) || !('code' in error)) return undefined;
  return typeof error.code === 'string' ? error.code : undefined;
}
