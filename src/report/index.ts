// Report: a verdict as one page that can be sent, with a script that makes its timelines live. It refuses to simulate
// anything but what it shows, to judge, and to touch files; its words and pictures come ready.
export { unpackText } from './data/decode-data.js';
export type { Fact, ReportBounds, ReportFinding, ReportInput, ReportTimeline } from './input.js';
export { makeLive } from './live.js';
export { type PageScript, pageScript } from './page-script.js';
export { reportBattery } from './report-battery.js';
export { reportBar, reportBounds } from './report-bounds.js';
export { htmlDocument, reportHtml } from './report-html.js';
export {
  commandLineText,
  reportTimeline,
  sharedCommandLine,
  sharedWords,
} from './report-timeline.js';
export { SheetTable } from './sections.js';
export { reportStyle } from './style.js';
