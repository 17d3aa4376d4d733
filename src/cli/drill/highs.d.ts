// What is used of highs. Its own declarations are those of a CommonJS module, which the one that is loaded is not.
declare module 'highs' {
  export interface Model {
    readonly options: {
      set: (values: Readonly<Record<string, string | number | boolean>>) => unknown;
    };
    readonly info: { get: (name: string) => number | bigint };
    run: () => unknown;
    getSolution: () => { readonly colValue: Float64Array };
  }
  export interface Highs {
    withModel: <Result>(
      source: { readonly format: 'lp'; readonly data: string },
      operation: (model: Model) => Result,
    ) => Result;
  }
  export default function loadHighs(): Promise<Highs>;
}
