// What a person has set in the planner: everything on the page follows from it, and a link carries it.
import { firstTooDeep, numberText } from '../base/index.js';
import {
  exampleSupply,
  mostHashCharacters,
  mostLevels,
  mostLinkCharacters,
} from '../model/index.js';
import { builtInProfiles } from '../scenarios/index.js';
import { fieldNamed } from './fields.js';
import { schemaKey } from './settings.js';
import { checked, readSettingsText, withCheck } from './settings-text.js';

export interface PlannerState {
  /** A watch file that was dropped in; null: the defaults. */
  readonly watchText: string | null;
  /** The watch file that the fields were filled from: what is taken out keeps its comments. Null: none. */
  readonly filledFrom: string | null;
  /** The name of that file; not given: what is taken out is called watch.yaml. */
  readonly watchName?: string | undefined;
  /** What the fields say in place of it, by the key of the field. */
  readonly set: Readonly<Record<string, string>>;
  readonly source: {
    readonly kind: 'scenario' | 'log';
    readonly name: string;
    readonly text: string;
    /** How a door log is read: whether bad rows are repaired, and the zone of times without an offset. */
    readonly lenient?: boolean | undefined;
    readonly zone?: string | undefined;
  };
  /** Openings drawn by hand, from and to, in ms from the start of the timeline. */
  readonly drawn: readonly (readonly [number, number])[];
  /** How the door is used in years of use, by the name of a profile of the package. */
  readonly profile: string;
}

const usualProfile = 'flower-store';

/** A drawn week of a door that is used so, with one opening that is left open. */
function weekOf(profile: string): PlannerState['source'] {
  const text = `name: A week of the profile ${profile}
start: 2026-05-04T00:00:00+02:00
length: 7d
generate: { profile: ${profile} }
door:
  - { at: "2026-05-07T14:30", for: 22m, note: left open }
`;
  return { kind: 'scenario', name: 'week.yaml', text };
}

export const initialState: PlannerState = {
  watchText: null,
  filledFrom: null,
  set: { 'supply.preset': exampleSupply.preset, 'supply.capacity': exampleSupply.capacity },
  source: weekOf(usualProfile),
  drawn: [],
  profile: usualProfile,
};

/** What the watch file is called in warnings, and where it is taken out. */
export function watchNameOf({ watchName }: Pick<PlannerState, 'watchName'>): string {
  return watchName ?? 'watch.yaml';
}

/** The same with a door that is used otherwise; a timeline of the person's own stays. */
export function usedAs(state: PlannerState, profile: string): PlannerState {
  const isOurs = state.source.text === weekOf(state.profile).text;
  return { ...state, profile, source: isOurs ? weekOf(profile) : state.source };
}

/** Whether a link can carry it all: a long door log is too much. */
export function fitsLink({ source, watchText, filledFrom }: PlannerState): boolean {
  const ofWatch = (watchText?.length ?? 0) + (filledFrom?.length ?? 0);
  return source.text.length + ofWatch <= mostLinkCharacters;
}

/** Empty where a link cannot carry it. */
export function hashOf(state: PlannerState): string {
  if (!fitsLink(state)) return '#';
  return `#${withCheck(encodeURIComponent(JSON.stringify(state)).replaceAll('~', '%7E'))}`;
}

export type Link =
  | { readonly kind: 'none' }
  | { readonly kind: 'read'; readonly state: PlannerState }
  /** `says` is a whole sentence. */
  | { readonly kind: 'refused'; readonly says: string };

/** Reads the part of an address that carries a state, from its # on. Never throws. */
export function readLink(hash: string): Link {
  if (hash.length < 2) return { kind: 'none' };
  if (hash.length > mostHashCharacters) {
    return refused(`it has more than ${numberText(mostHashCharacters)} characters`);
  }
  const body = hash.slice(1);
  if (!body.startsWith('%7B') && !body.startsWith('{')) {
    const set = readSettingsText(body);
    if (!set.ok) return refused(set.errors[0]?.message ?? 'it is damaged');
    return { kind: 'read', state: { ...initialState, set: set.value } };
  }
  const found = checked(body);
  if (found.kind !== 'whole') {
    return refused(
      found.kind === 'damaged'
        ? 'a part of it is missing or was changed. Copy it again, whole'
        : 'its end is missing, or it is of another version of the planner',
    );
  }
  try {
    const text = decodeURIComponent(found.text);
    if (firstTooDeep(text, mostLevels) !== null) {
      return refused(`it nests more than ${String(mostLevels)} levels deep`);
    }
    const value: unknown = JSON.parse(text);
    if (isState(value)) return { kind: 'read', state: value };
  } catch {
    // Neither an address nor JSON: no planner made it.
  }
  return refused('it is damaged, or of another version of the planner');
}

function refused(why: string): Link {
  return { kind: 'refused', says: `The link in the address of this page cannot be used: ${why}.` };
}

/** The state in a link; null if the link has no state, or a damaged one. */
export function stateOf(hash: string): PlannerState | null {
  const link = readLink(hash);
  return link.kind === 'read' ? link.state : null;
}

/** Whether a value read from JSON is what a person has set. */
export function isState(value: unknown): value is PlannerState {
  if (typeof value !== 'object' || value === null) return false;
  const {
    watchText,
    filledFrom,
    watchName,
    set,
    source,
    drawn,
    profile,
  }: Partial<Record<keyof PlannerState, unknown>> = value;
  return (
    (watchText === null || typeof watchText === 'string') &&
    (filledFrom === null || typeof filledFrom === 'string') &&
    isOptional(watchName, 'string') &&
    typeof set === 'object' &&
    set !== null &&
    Object.entries(set).every(
      ([key, text]) =>
        typeof text === 'string' && (fieldNamed(key) !== undefined || key === schemaKey),
    ) &&
    typeof source === 'object' &&
    source !== null &&
    'kind' in source &&
    (source.kind === 'scenario' || source.kind === 'log') &&
    'name' in source &&
    typeof source.name === 'string' &&
    'text' in source &&
    typeof source.text === 'string' &&
    isOptional('lenient' in source ? source.lenient : undefined, 'boolean') &&
    isOptional('zone' in source ? source.zone : undefined, 'string') &&
    typeof profile === 'string' &&
    builtInProfiles.includes(profile) &&
    Array.isArray(drawn) &&
    drawn.every(isPair)
  );
}

function isOptional(value: unknown, kind: 'boolean' | 'string'): boolean {
  return value === undefined || typeof value === kind;
}

function isPair(value: unknown): boolean {
  return (
    Array.isArray(value) &&
    value.length === 2 &&
    value.every((ms) => Number.isSafeInteger(ms) && Number(ms) >= 0) &&
    Number(value[0]) < Number(value[1])
  );
}
