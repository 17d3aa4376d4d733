// A worker of a long search: a watch in, the outcome of the search out.
import { type SearchOutcome, type SearchTask, searchBounds } from './search.js';

export function runTask(task: SearchTask): SearchOutcome {
  return searchBounds(task);
}
