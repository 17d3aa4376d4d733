// Margin: how warm a space gets by the time somebody comes, with one time constant for all of it. It refuses to
// know of goods that melt or lag, and says so.
export { type AirExchange, airExchange, airTauMs, type Doorway } from './doorway.js';
export { type FittedWarmUp, fitWarmUp, type Reading } from './fit.js';
export { type NamedLimit, namedLimits } from './limits.js';
export { type Margin, type MarginQuestion, marginOf } from './margin.js';
export { celsiusAfter, type Limit, type Space, toLimitMs } from './warm-up.js';
