// Property tests draw a fresh seed on a person's machine, so that every run looks somewhere else; in CI the seed
// is fixed, so that a red build is about the change. DOZEWATCH_SEED sets it anywhere.
const seed = process.env['DOZEWATCH_SEED'] ?? (process.env['CI'] === undefined ? undefined : '1');

if (seed !== undefined) {
  const { configureGlobal } = await import('fast-check');
  configureGlobal({ seed: Number(seed) });
}
