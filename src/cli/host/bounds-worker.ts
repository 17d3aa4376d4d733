// A worker of a long search: a watch file in, what came of the search out.
import type { WatchFile } from '../../scenarios/index.js';
import { boundsQuestion, type SearchOutcome, searchBounds } from '../work/bounds-search.js';

export function runSearch(watchFile: WatchFile): SearchOutcome {
  return searchBounds(boundsQuestion(watchFile));
}
