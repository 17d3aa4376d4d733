// The planner as one HTML file.
import { hiddenPatterns, markupOf } from '../chart/index.js';
import { htmlDocument, type PageScript, reportStyle } from '../report/index.js';
import type { PlannerState } from './state.js';

const layout = `
main{max-width:none;padding:0}
header{display:flex;flex-wrap:wrap;gap:8px 12px;align-items:center;padding:12px 28px}
h1{font-size:15px;margin:0 auto 0 0;letter-spacing:.01em}
.tools{display:flex;flex-wrap:wrap;gap:6px;align-items:center}
.tools .soft{font-size:13px}
.in-sight{position:sticky;top:0;z-index:2}
.readings{background:var(--dw-paper);padding:0 28px 4px;border-top:1px solid var(--dw-ink);border-bottom:1px solid var(--dw-ink)}
.two-parts{margin:2px 0 6px;padding:4px 10px;border-left:5px solid var(--dw-reported);font-size:14px;max-width:none}
.two-parts.bad{border-left-color:var(--dw-missed)}
.two-parts.doubtful{border-left-color:var(--dw-late)}
.figures{display:grid;grid-template-columns:1.1fr 1.25fr 1.1fr 1.15fr 1.45fr 1.35fr .55fr .8fr;gap:0;margin:0}
.figure{padding:9px 10px 8px 12px;border-left:1px solid var(--dw-rule);min-width:0}
.figure:first-child{border-left:0;padding-left:0}
.figure dt{font-size:12px;line-height:1.35;white-space:nowrap}
.figure dd{font-size:17px;line-height:1.35;white-space:nowrap;font-weight:600;letter-spacing:-.01em}
.figure.bad dd,.figure.bad dt{color:var(--dw-missed)}
.figures.nine{grid-template-columns:repeat(9,auto)}
.figures.rates{grid-template-columns:repeat(3,max-content);margin-top:8px}
.figures.rates .figure{padding-right:36px}
.figure dd.range{font-size:12px;font-weight:400;color:var(--dw-soft);letter-spacing:0}
.ruler{display:block;width:100%;overflow:visible;font-size:11px}
.lengths .sentence{margin:0 0 2px;font-size:15px;font-weight:600;max-width:none}
.lengths .sentence.bad{color:var(--dw-missed)}
.ruler .mark{fill:var(--dw-ink)}
.ruler .ghost{fill:var(--dw-ink);opacity:.45}
.figure dd.was{font-size:11px;font-weight:400;color:var(--dw-soft);letter-spacing:0;line-height:1.2}
.only-heard{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap;margin:0}
.skip{position:absolute;left:8px;top:-60px;z-index:5}
.skip:focus{top:6px}
.results:focus{outline:none}
.results>.hint{margin-top:12px}
.log-reading{display:flex;flex-wrap:wrap;gap:6px 18px;align-items:center;font-size:13px;margin:12px 0 0}
.log-reading input[type=text]{font:inherit;width:12em;min-height:28px;padding:2px 7px;color:var(--dw-ink);background:var(--dw-paper);border:1px solid var(--dw-soft);border-radius:3px}
.log-reading input[type=checkbox]{width:24px;height:24px;vertical-align:middle;margin:0}
.as-text{margin-top:18px}
.as-text textarea{font:12px/1.4 ui-monospace,SFMono-Regular,Menlo,Consolas,monospace;width:100%;color:var(--dw-ink);background:var(--dw-paper);border:1px solid var(--dw-soft);border-radius:3px;padding:4px 6px;overflow-wrap:anywhere;resize:vertical}
.bench{display:grid;grid-template-columns:316px minmax(0,1fr);align-items:start}
.controls{padding:6px 20px 40px 28px;border-right:1px solid var(--dw-rule);position:sticky;top:var(--in-sight,180px);max-height:calc(100vh - var(--in-sight,180px));overflow:auto;scrollbar-width:thin}
.controls summary{font-size:12px;font-weight:600;letter-spacing:.06em;text-transform:uppercase;padding:12px 0 5px;border-bottom:1px solid var(--dw-rule);margin-bottom:4px;cursor:pointer}
.control{display:grid;grid-template-columns:1fr 124px;gap:0 8px;align-items:center;padding:5px 0}
.control.line{grid-template-columns:1fr}
.control label{font-size:13px;color:var(--dw-soft)}
.control input[type=text],.control select{font:inherit;font-size:13px;width:100%;min-height:28px;padding:2px 7px;color:var(--dw-ink);background:var(--dw-paper);border:1px solid var(--dw-soft);border-radius:3px}
.control select{padding:2px 3px;letter-spacing:-.02em}
.control input::placeholder{color:var(--dw-soft);opacity:1}
.control input[aria-invalid=true]{border-color:var(--dw-missed);box-shadow:inset 3px 0 var(--dw-missed)}
input[type=range]{grid-column:1/-1;width:100%;height:24px;margin:0;background:none;appearance:none;-webkit-appearance:none;cursor:ew-resize}
input[type=range]::-webkit-slider-runnable-track{height:7px;border-bottom:1px solid var(--dw-soft);background:repeating-linear-gradient(90deg,var(--dw-soft) 0 1px,transparent 1px calc((100% - 1px)/var(--steps))) 12px 0/calc(100% - 24px) 100% no-repeat}
input[type=range]::-moz-range-track{height:7px;border-bottom:1px solid var(--dw-soft);background:repeating-linear-gradient(90deg,var(--dw-soft) 0 1px,transparent 1px calc((100% - 1px)/var(--steps))) 12px 0/calc(100% - 24px) 100% no-repeat}
input[type=range]::-webkit-slider-thumb{-webkit-appearance:none;width:24px;height:24px;margin-top:-9px;background:linear-gradient(var(--dw-reported) 0 0) center/9px 17px no-repeat;border:0}
input[type=range]::-moz-range-thumb{width:24px;height:24px;background:linear-gradient(var(--dw-reported) 0 0) center/9px 17px no-repeat;border:0;border-radius:0}
input.unset::-webkit-slider-thumb{background:linear-gradient(var(--dw-paper) 0 0) center/7px 15px no-repeat,linear-gradient(var(--dw-soft) 0 0) center/9px 17px no-repeat}
input.unset::-moz-range-thumb{background:linear-gradient(var(--dw-paper) 0 0) center/7px 15px no-repeat,linear-gradient(var(--dw-soft) 0 0) center/9px 17px no-repeat}
.error{grid-column:1/-1;color:var(--dw-missed);font-size:13px;margin:2px 0 4px}
input:focus-visible,select:focus-visible,summary:focus-visible{outline:3px solid var(--dw-known);outline-offset:1px}
.results{padding:0 28px 60px;max-width:1604px}
.results h2{border-top:0;margin-top:28px;padding-top:0}
.results section+section{border-top:1px solid var(--dw-rule);margin-top:24px}
.results h2{margin-bottom:6px}
.results h2.own{text-transform:none;letter-spacing:0;font-size:17px}
.results ul{font-size:14px}
.live-words{min-height:3.1em}
.wide>svg{min-width:320px}
.sheet-button{display:none}
.sheet{display:contents}
.news{border-left:3px solid var(--dw-late);background:var(--dw-panel);padding:8px 14px;margin:18px 0 0}
.news.error{border-left-color:var(--dw-missed)}
.results .news ul{list-style:none;margin:0;padding:0;font-size:13px;max-width:none;overflow-wrap:anywhere}
.stale{opacity:.55}
.stale .error{opacity:1}
.hint{color:var(--dw-soft);font-size:13px;max-width:none}
table.sheet,table.choices{font-size:13px;margin:14px 0 0;font-variant-numeric:tabular-nums}
table.sheet td:last-child{min-width:300px}
table.choices td,table.choices th{white-space:nowrap;vertical-align:middle;padding-right:14px}
table.choices td:first-child,table.choices th:first-child{position:sticky;left:0;background:var(--dw-paper)}
table.choices td:last-child{white-space:normal;min-width:6.6em}
table.choices button{min-height:26px;padding:1px 10px;font-weight:400}
.tag{display:block;font-size:11px;line-height:1.3;color:var(--dw-soft)}
table.choices tr.recommended td{font-weight:600}
.hint select{font:inherit;color:var(--dw-ink);background:var(--dw-paper);border:1px solid var(--dw-soft);border-radius:3px;padding:1px 3px}
progress{width:100%;height:6px;accent-color:var(--dw-reported)}
@media (max-width:1310px){.figures.nine{grid-template-columns:repeat(5,auto)}.figures.nine .figure:nth-child(6){border-left:0;padding-left:0}}
@media (max-width:1180px){.figures{grid-template-columns:repeat(4,1fr)}.figures:not(.nine) .figure:nth-child(5){border-left:0;padding-left:0}}
@media (max-width:860px){
.bench{grid-template-columns:minmax(0,1fr)}
.sheet{display:none}
.sheet.open{display:block;position:fixed;left:0;right:0;bottom:0;z-index:3;max-height:62vh;overflow:auto;background:var(--dw-paper);border-top:2px solid var(--dw-ink)}
.sheet-button{display:block;position:fixed;right:16px;bottom:16px;z-index:4;min-height:44px;padding:0 18px;background:var(--dw-ink);color:var(--dw-paper);border-color:var(--dw-ink)}
.sheet-button:hover:not(:disabled){background:var(--dw-ink)}
.controls{position:static;max-height:none;border-right:0;padding:4px 16px 76px}
.results{padding:0 16px 20px}
header,.readings{padding-left:16px;padding-right:16px}
header{padding-top:10px;padding-bottom:10px}
}
@media (max-width:640px){
.figures:not(.rates){grid-template-columns:repeat(2,auto)}
.readings .figure{display:none}
.readings .figure.brief{display:block;padding:4px 4px 2px 8px;border-left:1px solid var(--dw-rule)}
.readings .figure.brief:first-child{border-left:0;padding-left:0}
.figures.rates{grid-template-columns:repeat(3,minmax(0,1fr))}
.figures.rates .figure{padding-right:4px}
.figure dt{font-size:11px;white-space:normal}
.figure dd{font-size:13px;margin:0;white-space:normal}
.control{grid-template-columns:1fr 140px}
.control.line{grid-template-columns:1fr}
input[type=range]{height:28px}
.two-parts{font-size:13px;order:-1;margin-top:8px}
.readings{display:flex;flex-direction:column}
.in-sight{top:calc(-8px - var(--verdict,0px))}
.lengths .sentence{font-size:13px}
.readings .figure.brief dd.was{line-height:1.1}
}
@media (max-height:620px){.in-sight{position:static}.controls{position:static;max-height:none}}
@media print{
.tools,.sheet-button,.sheet,.skip,.hint{display:none}
.bench{display:block}
.in-sight{position:static}
.readings,header,.results{padding-left:0;padding-right:0}
.live-tools,.live-words{display:none}
}
`;

/** A longer start, such as a month of a busy door, is packed. */
const mostUnpacked = 50_000;

export function plannerHtml(page: {
  readonly script: PageScript;
  readonly caution: string;
  readonly version: string;
  /** What the page begins with. */
  readonly start: PlannerState;
  /** Packs a long text, as base 64 of gzip. */
  readonly pack: (text: string) => string;
}): string {
  const { script, caution, version, start, pack } = page;
  const text = JSON.stringify(start);
  const begins = text.length > mostUnpacked ? { packed: pack(text) } : { start };
  const data = JSON.stringify({ version, caution, ...begins }).replaceAll('<', '\\u003c');
  const body = markupOf(
    <>
      {hiddenPatterns()}
      <div id="planner">
        <p>
          The planner is a page that computes: it needs scripts, and a browser from 2023 or later.
        </p>
      </div>
      <footer class="caution">{caution}</footer>
    </>,
  );
  const style = `${reportStyle()}\n${layout}\nfooter.caution{padding:12px 24px;margin:0}`;
  return htmlDocument({ title: 'dozewatch planner', style, body, data, script });
}
