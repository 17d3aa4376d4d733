// Pictures as parts of an HTML page: without a prolog and a style sheet of their own, and with names of their own.
import type { VNode } from 'preact';
import { renderToString } from 'preact-render-to-string';
import { Patterns } from '../patterns.js';
import { styleSheet } from '../style-sheet.js';
import { pageTheme } from '../theme.js';

/** The style of all pictures of a page, drawn with the theme `page`. */
export function figureStyle(): string {
  return styleSheet(pageTheme);
}

/** Where the patterns of all pictures of a page are found, whichever of them are shown. */
export function hiddenPatterns(): VNode {
  return (
    <svg width="0" height="0" style="position:absolute" aria-hidden="true">
      <Patterns theme={pageTheme} />
    </svg>
  );
}

/** A whole SVG document as a part of a page. @param id names it, once a page. */
export function figureOf(svg: string, id: string): string {
  return svg
    .replace(/^<\?xml[^>]*>\s*/u, '')
    .replace(/<style>[\s\S]*?<\/style>/u, '')
    .replace(/<defs>[\s\S]*?<\/defs>/u, '')
    .replace('aria-labelledby="dw-title dw-desc"', `aria-labelledby="${id}-title ${id}-desc"`)
    .replace('id="dw-title"', `id="${id}-title"`)
    .replace('id="dw-desc"', `id="${id}-desc"`);
}

export function markupOf(node: VNode): string {
  return renderToString(node);
}
