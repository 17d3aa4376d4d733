// The part of the parser that the tests use.
declare module 'vcd-parser' {
  interface ParsedSignal {
    readonly name: string;
    readonly wave: readonly (readonly [at: string, value: string])[];
  }
  const parser: {
    parse(text: string): Promise<{ readonly signal: readonly ParsedSignal[] }>;
  };
  export default parser;
}
