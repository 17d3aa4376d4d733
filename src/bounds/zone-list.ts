// Zones that are compared with one another one by one. In a long list the cells in which they differ most lie side by side in one array:
// looking through thousands of them then reads memory in a row, and most differ before their zones are looked at.
import { itemAt } from '../base/index.js';
import { differingCells, includes, type Zone } from './zone.js';

/** Something with a zone that it covers. */
export interface Zoned {
  readonly at: { readonly zone: Zone };
}

export interface ZoneList<Node extends Zoned> {
  readonly nodes: Node[];
  /** Those of each node in the order of `nodes`; null: the list is short. */
  cells: Float64Array | null;
}

const width = differingCells.length;
/** In a list up to this long each zone is looked at. */
const shortLength = 8;

export function emptyZoneList<Node extends Zoned>(): ZoneList<Node> {
  return { nodes: [], cells: null };
}

/** Whether a zone of the list holds all of this one. @param gone nodes that were taken from other lists: they leave this one on the way. */
export function coversIn<Node extends Zoned>(
  list: ZoneList<Node>,
  zone: Zone,
  gone?: ReadonlySet<Node>,
): boolean {
  const { nodes, cells } = list;
  if (cells !== null) read(zone);
  for (let place = nodes.length - 1; place >= 0; place -= 1) {
    if (cells !== null && !isNoLess(cells, place)) continue;
    const known = itemAt(nodes, place);
    if (gone?.has(known) === true) removeAt(list, place);
    else if (includes(known.at.zone, zone)) return true;
  }
  return false;
}

/** Takes the nodes from the list that a zone covers. */
export function takeCovered<Node extends Zoned>(list: ZoneList<Node>, zone: Zone): readonly Node[] {
  const { nodes, cells } = list;
  const taken: Node[] = [];
  if (cells !== null) read(zone);
  for (let place = nodes.length - 1; place >= 0; place -= 1) {
    if (cells !== null && !isNoMore(cells, place)) continue;
    const known = itemAt(nodes, place);
    if (!includes(zone, known.at.zone)) continue;
    taken.push(known);
    removeAt(list, place);
  }
  return taken;
}

export function putOn<Node extends Zoned>(list: ZoneList<Node>, node: Node): void {
  const { nodes } = list;
  nodes.push(node);
  if (nodes.length <= shortLength) return;
  if (list.cells === null || nodes.length * width > list.cells.length) {
    const wider = new Float64Array(2 * nodes.length * width);
    if (list.cells === null) for (const [place, one] of nodes.entries()) write(wider, place, one);
    else wider.set(list.cells);
    list.cells = wider;
  }
  write(list.cells, nodes.length - 1, node);
}

function removeAt<Node extends Zoned>({ nodes, cells }: ZoneList<Node>, place: number): void {
  const last = nodes.pop();
  if (last === undefined || place === nodes.length) return;
  nodes[place] = last;
  cells?.copyWithin(place * width, nodes.length * width, (nodes.length + 1) * width);
}

function write(cells: Float64Array, place: number, { at: { zone } }: Zoned): void {
  read(zone);
  cells.set(own, place * width);
}

/** The cells of the zone that is compared. */
const own = new Float64Array(width);

function read(zone: Zone): void {
  for (let cell = 0; cell < width; cell += 1) own[cell] = zone[differingCells[cell] ?? 0] ?? 0;
}

/** Whether no cell of a place is less than those that were read. */
function isNoLess(cells: Float64Array, place: number): boolean {
  const from = place * width;
  for (let cell = 0; cell < width; cell += 1) {
    if ((cells[from + cell] ?? 0) < (own[cell] ?? 0)) return false;
  }
  return true;
}

function isNoMore(cells: Float64Array, place: number): boolean {
  const from = place * width;
  for (let cell = 0; cell < width; cell += 1) {
    if ((cells[from + cell] ?? 0) > (own[cell] ?? 0)) return false;
  }
  return true;
}
