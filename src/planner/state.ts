// What a person has set in the planner: everything on the page follows from it, and a link carries it.

export interface PlannerState {
  /** A watch file that was dropped in; null: the defaults. */
  readonly watchText: string | null;
  /** What the fields say in place of it, by the key of the field. */
  readonly set: Readonly<Record<string, string>>;
  readonly source: {
    readonly kind: 'scenario' | 'log';
    readonly name: string;
    readonly text: string;
  };
  /** Openings drawn by hand, from and to, in ms from the start of the timeline. */
  readonly drawn: readonly (readonly [number, number])[];
}

const weekText = `name: A week at the flower store
start: 2026-05-04T00:00:00+02:00
length: 7d
generate: { profile: flower-store }
door:
  - { at: "2026-05-07T14:30", for: 22m, note: wedged for the trolleys }
`;

export const initialState: PlannerState = {
  watchText: null,
  set: { 'supply.preset': 'maker-board', 'supply.capacity': '400mAh' },
  source: { kind: 'scenario', name: 'week.yaml', text: weekText },
  drawn: [],
};

export function hashOf(state: PlannerState): string {
  return `#${encodeURIComponent(JSON.stringify(state))}`;
}

/** The state in a link; null where there is none that can be believed. */
export function stateOf(hash: string): PlannerState | null {
  if (hash.length < 2) return null;
  try {
    const value: unknown = JSON.parse(decodeURIComponent(hash.slice(1)));
    return isState(value) ? value : null;
  } catch {
    return null;
  }
}

function isState(value: unknown): value is PlannerState {
  if (typeof value !== 'object' || value === null) return false;
  if (!('watchText' in value && 'set' in value && 'source' in value && 'drawn' in value))
    return false;
  const { watchText, set, source, drawn } = value;
  return (
    (watchText === null || typeof watchText === 'string') &&
    typeof set === 'object' &&
    set !== null &&
    Object.values(set).every((text) => typeof text === 'string') &&
    typeof source === 'object' &&
    source !== null &&
    'kind' in source &&
    (source.kind === 'scenario' || source.kind === 'log') &&
    'name' in source &&
    typeof source.name === 'string' &&
    'text' in source &&
    typeof source.text === 'string' &&
    Array.isArray(drawn) &&
    drawn.every(isPair)
  );
}

function isPair(value: unknown): boolean {
  return (
    Array.isArray(value) &&
    value.length === 2 &&
    value.every((ms) => Number.isSafeInteger(ms) && Number(ms) >= 0) &&
    Number(value[0]) < Number(value[1])
  );
}
