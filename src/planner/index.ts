// Planner: settings tried out on a page that runs the same simulator, bounds and battery as the command line. It
// refuses to compute anything of its own.

export { type Plan, type Planned, planning } from './plan.js';
export { plannerHtml } from './planner-html.js';
export { settingsIn } from './settings.js';
export { readSettingsText, settingsText } from './settings-text.js';
export { hashOf, initialState, type Link, type PlannerState, readLink, stateOf } from './state.js';
export { isLogName, withFile } from './with-file.js';
