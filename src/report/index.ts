// Report: a verdict as one page that can be sent, with a script that makes its timelines live. It refuses to simulate
// anything but what it shows, to judge, and to touch files; its words and pictures come ready.
export type { Fact, ReportBounds, ReportFinding, ReportInput, ReportTimeline } from './input.js';
export { reportBounds } from './report-bounds.js';
export { htmlDocument, reportHtml } from './report-html.js';
export { commandLineText, originFacts, reportTimeline } from './report-timeline.js';
export { sceneOfRun } from './run.js';
export { SheetTable } from './sections.js';
export { reportStyle } from './style.js';
