// A judged timeline as data inside a page: enough to run it again there, which gives the same.
import { nameOfFile } from '../../base/index.js';
import type { Timeline, WatchFile } from '../../scenarios/index.js';
import { idealContactEdges, type World } from '../../world/index.js';

/** What the page's own script runs and draws. */
export interface PageData {
  readonly timelines: readonly { readonly timeline: Timeline; readonly watchFile: WatchFile }[];
}

/** As JSON that may stand in a `<script>`: nothing in it can end one. */
export function encodedData(data: PageData): string {
  const timelines = data.timelines.map(({ timeline, watchFile }) => ({
    // A page is sent around: the folders of the machine that made it stay behind.
    timeline: { ...timeline, file: nameOfFile(timeline.file), world: worldAs(timeline.world) },
    watchFile,
  }));
  return JSON.stringify({ timelines }, (_, value: unknown) => {
    if (value instanceof Float64Array) return columnAs(value);
    if (value instanceof Map) return { entries: [...value] };
    if (value === Number.POSITIVE_INFINITY) return { endless: true };
    return value;
  }).replaceAll('<', '\\u003c');
}

/** The same where it is long: gzip in base 64. */
export function packedData(packed: string): string {
  return JSON.stringify({ packed });
}

/** Edges of a contact that follows its door say nothing that its openings do not: of a busy month half of the data. */
function worldAs(world: World) {
  const ideal = idealContactEdges(world.openings);
  const isIdeal =
    ideal.length === world.contact.length &&
    ideal.every((edgeMs, index) => edgeMs === world.contact[index]);
  return isIdeal ? { ...world, contact: { ideal: true } } : world;
}

/** Whole numbers as steps from one to the next: instants that ascend become short. */
function columnAs(column: Float64Array) {
  const isExact = column.every((value) => Number.isSafeInteger(value) || !Number.isFinite(value));
  return isExact ? { columnSteps: stepsOf(column) } : { columns: [...column] };
}

function stepsOf(column: Float64Array): readonly number[] {
  let before = 0;
  return Array.from(column, (value) => {
    if (!Number.isFinite(value)) return value;
    const step = value - before;
    before = value;
    return step;
  });
}
