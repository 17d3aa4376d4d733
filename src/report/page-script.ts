// A page's script, packed: a page is a third as long, and unpacks it in a few milliseconds. Browsers have been able to since 2023.

/** As a page carries it. */
export interface PageScript {
  /** Gzip in base 64. */
  readonly packed: string;
  /** Hashes of the loader and of the script itself, as a policy of contents names them: nothing else may run. */
  readonly allowed: string;
}

/** Puts the script into the page under the name `dw-script`, where it runs. */
export const loader = `(async () => {
const text = document.getElementById('dw-packed').textContent;
const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'));
const script = document.createElement('script');
script.id = 'dw-script';
script.textContent = await new Response(stream).text();
document.body.append(script);
})();`;

/** @param pack gzip in base 64 */
export function pageScript(
  text: string,
  {
    pack,
    hashOf,
  }: { readonly pack: (text: string) => string; readonly hashOf: (text: string) => string },
): PageScript {
  return { packed: pack(text), allowed: `'${hashOf(loader)}' '${hashOf(text)}'` };
}
