// Sheets of paper: what to do, and a table to fill in. No script, so that nothing but the paper is needed.
import type { ComponentChildren, VNode } from 'preact';
import { markupOf } from '../chart/index.js';
import { sheetStyle } from './style.js';

/** A table to fill in by hand: its columns, and for each row the cells that are given; the others stay empty. */
export interface FormTable {
  readonly name: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

export interface PaperSheet {
  readonly title: string;
  readonly cautions: readonly string[];
  readonly steps: readonly string[];
  /** Side by side where there is room. */
  readonly tables: readonly FormTable[];
  readonly after: string;
  readonly footer: string;
}

export function paperPage(sheet: PaperSheet): string {
  const { title, cautions, steps, tables, after, footer } = sheet;
  const body = markupOf(
    <main>
      <h1>{title}</h1>
      <Cautions of={cautions} />
      <ol>
        {steps.map((step) => (
          <li>{step}</li>
        ))}
      </ol>
      <div class={tables.length > 1 ? 'two-up' : ''}>
        {tables.map((table) => (
          <Form of={table} />
        ))}
      </div>
      <p class="after">{after}</p>
      <footer>{footer}</footer>
    </main>,
  );
  return document(title, body);
}

function Cautions({ of }: { readonly of: readonly string[] }): ComponentChildren {
  if (of.length === 0) return null;
  return (
    <div class="warn">
      {of.map((words) => (
        <p>{words}</p>
      ))}
    </div>
  );
}

function Form({ of }: { readonly of: FormTable }): VNode {
  const { name, columns, rows } = of;
  return (
    <table class="fill">
      <caption>{name}</caption>
      <thead>
        <tr>
          {columns.map((column) => (
            <th scope="col">{column}</th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((given) => (
          <tr>
            {columns.map((_, index) =>
              given[index] === undefined ? <td /> : <td class="given">{given[index]}</td>,
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const paperStyle = `
.fill{margin:4px 0 12px}
.after{margin-top:10px}
@media print{
@page{margin:12mm}
ol,p{font-size:9.5pt;line-height:1.4}
.fill th,.fill td{height:6.2mm}
footer{margin-top:10px;font-size:8pt}
}`;

function document(title: string, body: string): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
${markupOf(<title>{title}</title>)}
<style>${sheetStyle(paperStyle)}</style>
</head>
<body>
${body}
</body>
</html>
`;
}
