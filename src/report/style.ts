// The style of a report: paper first, so that it prints as it reads; small screens and the dark are variations of it.
import { figureStyle, fontFamily, themeVariables } from '../chart/index.js';

const sheet = `
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0;background:var(--dw-paper);color:var(--dw-ink);font:15px/1.55 ${fontFamily};font-variant-numeric:tabular-nums}
main{max-width:1120px;margin:0 auto;padding:28px 32px 56px}
h1{font-size:26px;line-height:1.25;margin:0 0 4px;font-weight:600;letter-spacing:-.01em;overflow-wrap:anywhere}
h2{overflow-wrap:anywhere;font-size:13px;margin:40px 0 12px;padding-top:10px;border-top:1px solid var(--dw-ink);font-weight:600;letter-spacing:.04em;text-transform:uppercase}
h3{font-size:16px;margin:24px 0 8px;font-weight:600;overflow-wrap:anywhere}
p{margin:0 0 10px;max-width:78ch}
.soft{color:var(--dw-soft)}
.verdict{font-size:19px;line-height:1.4;margin:14px 0 18px;padding:14px 18px;border-left:6px solid var(--dw-reported);background:var(--dw-panel);max-width:none;overflow-wrap:anywhere}
.verdict.bad{border-left-color:var(--dw-missed)}
.verdict.doubtful{border-left-color:var(--dw-late)}
.verdict strong{font-weight:600}
dl{display:grid;grid-template-columns:minmax(130px,max-content) 1fr;gap:4px 24px;margin:0}
dt{color:var(--dw-soft)}
dd{margin:0;overflow-wrap:anywhere}
.wide{overflow-x:auto;margin:0 0 8px}
.wide:focus-visible,.live-frame:focus-visible,.live-row:focus-visible,button:focus-visible,summary:focus-visible{outline:3px solid var(--dw-known);outline-offset:2px}
.wide>svg{display:block;min-width:680px;width:100%;height:auto}
table{border-collapse:collapse;width:100%;font-size:14px}
caption{text-align:left;color:var(--dw-soft);padding-bottom:6px}
th{text-align:left;font-weight:600;border-bottom:1px solid var(--dw-ink);padding:5px 12px 5px 0;vertical-align:bottom}
td{border-bottom:1px solid var(--dw-rule);padding:6px 12px 6px 0;vertical-align:top;overflow-wrap:break-word}
.sheet tbody th{vertical-align:top;border-bottom:1px solid var(--dw-rule);white-space:nowrap}
.word{white-space:nowrap}
.num{text-align:right;white-space:nowrap}
.bad-word{color:var(--dw-missed);font-weight:600}
.long{overflow-wrap:anywhere;min-width:9em}
summary{cursor:pointer;padding:8px 0;color:var(--dw-soft)}
.late-word{color:var(--dw-late);font-weight:600}
.false-word{color:var(--dw-falseAlarm);font-weight:600}
pre{font:13px/1.5 ui-monospace,SFMono-Regular,Menlo,Consolas,monospace;background:var(--dw-panel);padding:10px 14px;white-space:pre-wrap;overflow-wrap:anywhere;margin:0 0 10px}
ul{margin:0 0 10px;padding-left:20px;max-width:78ch}
.live-tools{display:flex;flex-wrap:wrap;gap:6px;align-items:center;margin-bottom:8px}
.live-span{margin-right:auto;color:var(--dw-soft);font-size:13px}
button{font:inherit;font-size:13px;min-height:30px;padding:3px 12px;color:var(--dw-ink);background:var(--dw-panel);border:1px solid var(--dw-soft);border-radius:3px;cursor:pointer}
button:hover:not(:disabled){border-color:var(--dw-ink);background:var(--dw-paper)}
button:disabled{opacity:.55;cursor:default}
.live-frame{overflow:hidden;touch-action:pan-y;cursor:grab;user-select:none;border-radius:2px}
.live-frame:active{cursor:grabbing}
.live-draws{cursor:crosshair}
.live-frame svg{display:block}
.live-calendar{margin-bottom:8px}
.live-rows{position:relative}
.live-rows>svg,.live-legend{display:block}
.live-legend{margin-top:12px}
.live-row{position:absolute;left:0;right:0;width:100%;min-height:0;padding:0;background:none;border:0;border-radius:0}
.live-row:hover:not(:disabled){background:var(--dw-known);opacity:.12}
.live-row[aria-expanded=true]{border-bottom:2px solid var(--dw-ink)}
.live-opened{border:2px solid var(--dw-ink);border-top:0;padding:10px 12px 6px;margin-bottom:6px}
.live-hint{color:var(--dw-late)}
.live-words{min-height:4.7em;margin:8px 0 0;font-size:14px;border-left:3px solid var(--dw-known);padding:2px 0 2px 12px;max-width:none}
.live-cursor{stroke:var(--dw-known);stroke-width:1.4;fill:none;pointer-events:none}
.live-drawn{fill:var(--dw-known);fill-opacity:.25;stroke:var(--dw-known)}
footer{margin-top:40px;border-top:1px solid var(--dw-rule);padding-top:12px;font-size:13px;color:var(--dw-soft)}
.on-phone,.on-middle{display:none}
.on-middle .wide>svg,.on-phone .wide>svg{min-width:0}
.own-case{text-transform:none;letter-spacing:0}
@media screen{.on-paper{display:none}}
@media screen and (max-width:1099px){.on-page{display:none}.on-middle{display:block}}
@media screen and (max-width:640px){
.on-page,.on-middle{display:none}
.on-phone{display:block}
.findings thead,.phases thead{display:none}
.findings table,.findings tbody,.findings tr,.findings td,.phases table,.phases tbody,.phases tr,.phases td{display:block;padding-left:0}
.findings tr,.phases tr{border-bottom:1px solid var(--dw-rule);padding:6px 0}
.findings td,.phases td{border:0;padding:1px 0}
.phases td{display:grid;grid-template-columns:9em 1fr;gap:0 12px}
.phases td::before{content:attr(data-title);color:var(--dw-soft)}
h2{overflow-wrap:anywhere}
.sheet,.sheet thead,.sheet tbody{display:block}
.sheet tr{display:grid;grid-template-columns:4.5em 1fr 1fr 5em;border-bottom:1px solid var(--dw-rule);padding:4px 0}
.sheet td,.sheet th,.sheet tbody th{border:0;padding:2px 0}
.sheet th:nth-child(4){padding-left:8px}
.sheet .word{padding-left:8px}
.sheet td:last-child{grid-column:1/-1}
.sheet thead th:last-child{display:none}
}
@media (max-width:640px){main{padding:18px 16px 40px}h1{font-size:21px}.verdict{font-size:16px;padding:10px 12px}dl{grid-template-columns:1fr;gap:0}dd{margin-bottom:8px}}
@page{margin:14mm}
@media print{
.on-page,.on-phone{display:none}
.on-middle{display:block}
main{max-width:none;padding:0}
body{font-size:10pt;background:#fff}
h3,caption{break-after:avoid}
thead{display:table-header-group}
h2{break-after:avoid;margin-top:22px}
tr,.verdict,figure{break-inside:avoid}
.live-section{display:none}
.wide{overflow:visible}
.wide>svg{min-width:0;max-height:245mm}
h1{font-size:17pt}
.verdict{font-size:11.5pt;padding:8px 14px;margin:8px 0 12px}
#still-0 .wide>svg{max-height:142mm}
*{print-color-adjust:exact;-webkit-print-color-adjust:exact}
}`;

/** Light, and dark for a reader who prefers that; always light on paper. */
export function reportStyle(): string {
  return [
    `:root{color-scheme:light dark;${themeVariables('light')}}`,
    `@media screen and (prefers-color-scheme:dark){:root{${themeVariables('dark')}}}`,
    sheet,
    figureStyle(),
  ].join('\n');
}
