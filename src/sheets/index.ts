// Sheets: pages to take to the door. A drill with a clock that runs there, and sheets of paper to fill in. It refuses to
// choose steps, to judge trials, and to touch files.
export type { DrillData, SheetStep } from './drill-data.js';
export { type DrillSheet, drillPage } from './drill-page.js';
export { type FormTable, type PaperSheet, paperPage } from './paper-page.js';
