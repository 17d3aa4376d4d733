// What the tests use of an SCXML interpreter that comes without types.
declare module '@scion-scxml/scxml' {
  interface Model {
    prepare(done: (error: unknown, prepared: unknown) => void): void;
  }
  export function documentStringToModel(
    url: string,
    text: string,
    done: (error: unknown, model: Model) => void,
    context: object,
  ): void;
  export const core: {
    readonly Statechart: new (
      prepared: unknown,
      options: { readonly customSend: (event: { readonly name: string }) => void },
    ) => { start(): void; gen(event: { readonly name: string }): readonly string[] };
  };
}
