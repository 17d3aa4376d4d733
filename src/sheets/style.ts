// The style of a sheet: the house style of pages, with what is filled in by hand.
import { reportStyle } from '../report/index.js';

const sheet = `
main{max-width:1000px}
.facts{display:grid;grid-template-columns:minmax(130px,230px) 1fr;gap:4px 24px;margin:0 0 16px}
.facts dt{color:var(--dw-soft)}
.warn{border-left:6px solid var(--dw-late);background:var(--dw-panel);padding:10px 16px;margin:16px 0}
.warn p:last-child{margin:0}
ol{padding-left:22px;margin:0 0 16px;max-width:78ch}
ol li{margin:0 0 5px}
.fill{border-collapse:collapse;width:100%}
.fill th,.fill td{border:1px solid var(--dw-soft);padding:4px 8px;height:1.9em}
.fill thead th{background:var(--dw-panel);vertical-align:bottom}
.fill td.given{white-space:nowrap;font-weight:600}
.two-up{display:grid;grid-template-columns:1fr 1fr;gap:0 28px;align-items:start}
.blank{display:inline-block;min-width:7em;border-bottom:1px solid var(--dw-ink)}
.only-heard{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap;margin:0}
.print-key{margin:0 0 12px}
@media (max-width:640px){.two-up{grid-template-columns:1fr}.facts{grid-template-columns:1fr;gap:0}.facts dd{margin-bottom:8px}}
@media print{
main{max-width:none}
h1{font-size:16pt}
.warn{padding:6px 10px;margin:8px 0}
.fill tr{break-inside:avoid}
.fill th,.fill td{padding:2px 6px}
}`;

export function sheetStyle(own: string): string {
  return [reportStyle(), sheet, own].join('\n');
}
