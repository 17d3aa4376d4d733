// Chart: a judged timeline as a picture, and what is proved of a watch as another, in SVG. Its components are plain functions of plain data, so that the same
// ones can run in a page. It refuses to simulate, to judge and to touch files.
export { alignedChart, wakesOnPage } from './aligned-chart.js';
export type { BatteryRun } from './battery/day.js';
export type { BatteryInput } from './battery/scene.js';
export { type BatteryChartOptions, batteryChart } from './battery-chart.js';
export { longestStripMs } from './close-ups.js';
export { type DataSheetInput, dataSheet } from './data-sheet.js';
export type { DetectionInput } from './detection/scene.js';
export { type DetectionChartOptions, detectionChart } from './detection-chart.js';
export { type EstimateInput, estimateChart } from './estimate-chart.js';
export { lengthBarChart } from './length-bar-chart.js';
export { LiveCalendar } from './live/live-calendar.js';
export { LiveComb } from './live/live-comb.js';
export { type MarginChartOptions, type MarginInput, marginChart } from './margin-chart.js';
export { overviewChart } from './overview-chart.js';
export { figureOf, figureStyle, hiddenPatterns, markupOf } from './page/in-page.js';
export { type ChartInput, type Scene, sceneOf } from './scene.js';
export { type StateDiagramInput, stateDiagram } from './state-diagram.js';
export { fontFamily, type ThemeName, themeVariables } from './theme.js';
export {
  type ChartOptions,
  reasonsToShow,
  timelineChart,
  wakesToRecord,
} from './timeline-chart.js';
export { type TuneChartOptions, type TuneInput, tuneChart } from './tune-chart.js';
export { type DumpInput, valueChangeDump } from './vcd/dump.js';
export { type YearChartOptions, type YearInput, yearChart } from './year-chart.js';
