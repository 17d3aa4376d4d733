// The planner as one HTML file.
import { hiddenPatterns, markupOf } from '../chart/index.js';
import { htmlDocument, reportStyle } from '../report/index.js';

const layout = `
main{max-width:none;padding:0}
header{display:flex;flex-wrap:wrap;gap:12px;align-items:center;padding:14px 24px;border-bottom:1px solid var(--dw-ink)}
h1{font-size:18px;margin:0 auto 0 0}
.tools{display:flex;flex-wrap:wrap;gap:6px}
.bench{display:grid;grid-template-columns:300px minmax(0,1fr);align-items:start}
.controls{padding:8px 24px 40px;border-right:1px solid var(--dw-rule);position:sticky;top:0;max-height:100vh;overflow:auto}
fieldset{border:0;padding:0;margin:0 0 10px}
legend{font-size:12px;font-weight:600;letter-spacing:.06em;text-transform:uppercase;padding:10px 0 4px;width:100%;border-bottom:1px solid var(--dw-rule)}
.control{display:grid;grid-template-columns:1fr 116px;gap:2px 8px;align-items:center;padding:5px 0}
.control label{font-size:13px;color:var(--dw-soft)}
.control input[type=text],.control select{font:inherit;font-size:13px;width:100%;min-height:28px;padding:2px 7px;color:var(--dw-ink);background:var(--dw-paper);border:1px solid var(--dw-soft);border-radius:3px}
.control input::placeholder{color:var(--dw-soft);opacity:1}
.control input[aria-invalid=true]{border-color:var(--dw-missed);box-shadow:inset 3px 0 var(--dw-missed)}
.control input[type=range]{grid-column:1/-1;width:100%;accent-color:var(--dw-reported);margin:0}
.error{grid-column:1/-1;color:var(--dw-missed);font-size:13px;margin:2px 0 4px}
input:focus-visible,select:focus-visible{outline:3px solid var(--dw-known);outline-offset:1px}
.results{padding:0 28px 60px;max-width:1240px}
.stale{opacity:.55}
.stale .error{opacity:1}
.figures{display:grid;grid-template-columns:repeat(auto-fit,minmax(200px,1fr));gap:0;margin:16px 0 0;border-bottom:1px solid var(--dw-ink)}
.figure{padding:8px 12px 10px 0}
.figure dt{font-size:12px}
.figure dd{font-size:20px;white-space:nowrap;font-weight:600;letter-spacing:-.01em}
.figure.bad dd{color:var(--dw-missed)}
.figure.bad dt{color:var(--dw-missed)}
.hint{color:var(--dw-soft);font-size:13px}
progress{width:100%;accent-color:var(--dw-reported)}
@media (max-width:860px){.bench{grid-template-columns:minmax(0,1fr)}.controls{position:static;max-height:none;border-right:0;order:2}.results{padding:0 16px 20px}header{padding:12px 16px}}
`;

export function plannerHtml(page: {
  readonly script: string;
  readonly caution: string;
  readonly hashOf: (text: string) => string;
}): string {
  const { script, caution, hashOf } = page;
  const body = markupOf(
    <>
      {hiddenPatterns()}
      <div id="planner">
        <p>The planner is a page that computes: it needs scripts, which are turned off here.</p>
      </div>
      <footer class="caution">{caution}</footer>
    </>,
  );
  const style = `${reportStyle()}\n${layout}\nfooter.caution{padding:12px 24px;margin:0}`;
  return htmlDocument({ title: 'dozewatch planner', style, body, data: '{}', script, hashOf });
}
