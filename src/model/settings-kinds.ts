// The parts of a row of the table of settings. Rows are plain data: `scenarios` reads and writes each kind of value, for
// files, command lines and pages.
import type { TrueMs, Um } from '../base/index.js';
import type { AnswerDelay } from './answer.js';
import type { Limits } from './limits.js';
import type { ActivityDraw, SelfDischarge } from './supply.js';
import type { ClockErrorRange, RangeMs } from './timing.js';

/** How many checks read open, out of how many last ones. */
interface OpenOutOf {
  readonly open: number;
  readonly outOf: number;
}

/** What a value of each kind is once it is read: whole numbers of the smallest unit. */
export interface ValueOfKind {
  readonly duration: TrueMs;
  /** Null: off. */
  readonly durationOrOff: TrueMs | null;
  /** Drawn again each time. */
  readonly timeRange: RangeMs;
  readonly count: number;
  readonly celsius: number;
  readonly threshold: OpenOutOf;
  readonly flag: boolean;
  readonly word: string;
  readonly gap: Um;
  /** In ppm. */
  readonly share: number;
  readonly clockError: ClockErrorRange;
  /** In nAh. */
  readonly capacity: number;
  /** In nA. */
  readonly current: number;
  /** In ohms. */
  readonly resistance: number;
  /** In mV. */
  readonly voltage: number;
  readonly activity: ActivityDraw;
  readonly answerDelay: AnswerDelay;
  readonly selfDischarge: SelfDischarge;
  /** The share of the capacity, in ppm, that each temperature leaves. */
  readonly derating: readonly { readonly celsius: number; readonly share: number }[];
  /** The voltage in mV when so much is left, in ppm. */
  readonly voltageCurve: readonly { readonly left: number; readonly voltage: number }[];
}

export type Kind = keyof ValueOfKind;

/** Where a page of settings shows one, in this order. */
export const headings = [
  'Watch',
  'Requirements',
  'Supply',
  'Messages',
  'Device',
  'The person',
  'Contact and door',
  'What may go wrong',
  'Supply in detail',
] as const;
export type Heading = (typeof headings)[number];

/** The parts of every row. */
interface AnyRow {
  /** Whole sentences, for the schema and the reference. */
  readonly help: string;
  /** A few words, beside a field. */
  readonly label: string;
  /** Where it is not the section's. */
  readonly heading?: Heading;
  /** Without it nothing can be made of the section. */
  readonly isRequired?: true;
  /** As a file would say it. Without a default a setting that is not written down is absent. */
  readonly default?: string | number | boolean;
  /**
   * The value of an absent setting that is not a default in the schema, because writing it down would mean something, or because it is
   * that of another: of a key of the same section, or by a path with a dot of one in another part of the file's section.
   */
  readonly otherwise?: string | number | { readonly like: string };
  /** On the command line, where it overrides the file. */
  readonly option?: { readonly flags: `--${string} <${string}>`; readonly help: string };
  /** Values between which people choose, ascending: the stops of a slider. */
  readonly steps?: readonly string[];
  /** Values that a search for settings tries by default. */
  readonly tried?: readonly string[];
  /** One that needs a line to itself, as an example. */
  readonly such?: string;
  /** In a list of settings, where it is absent. */
  readonly absent?: string;
}

/** The parts that a row of one kind has besides. */
interface MoreOfKind {
  readonly duration: Ranged;
  readonly durationOrOff: Ranged & { readonly off: string };
  readonly timeRange: Ranged;
  readonly answerDelay: Ranged;
  readonly count: Ranged;
  readonly celsius: Ranged;
  readonly threshold: Ranged;
  readonly word: {
    readonly words: readonly string[];
    /** Words of earlier versions, each with the one that took its place. */
    readonly renamed?: Readonly<Record<string, string>>;
  };
  readonly gap: Ranged;
  readonly share: Ranged;
  readonly clockError: Ranged;
  readonly capacity: Ranged;
  readonly current: Ranged;
  readonly resistance: Ranged;
  readonly voltage: Ranged;
  /** A sentence for each part. */
  readonly activity: { readonly parts: Readonly<Record<'current' | 'time' | 'charge', string>> };
}

interface Ranged {
  readonly range: Limits;
}

/** The row of one key. */
export type Row<Of extends Kind = Kind> = {
  readonly [K in Of]: AnyRow & { readonly kind: K } & (K extends keyof MoreOfKind
      ? MoreOfKind[K]
      : unknown);
}[Of];

/** A key of the file whose value is a map of further keys. */
export interface Section {
  readonly kind: 'section';
  readonly help: string;
  readonly heading?: Heading;
  /** Left out, it is absent: nothing in it holds. Else its defaults do. */
  readonly isOptional?: true;
  /** In a list of settings, one line in place of all of its own while they are as they are without it. */
  readonly absent?: string;
  readonly keys: Readonly<Record<string, Row | Section>>;
}

/** What is given of a section, defaults included; what is absent is undefined. */
export type Given<S extends Pick<Section, 'keys'>> = {
  readonly [K in keyof S['keys']]: GivenOf<S['keys'][K]>;
};

type GivenOf<Part> = Part extends Section
  ? Given<Part> | (Part extends { readonly isOptional: true } ? undefined : never)
  : Part extends Row
    ? ValueOf<Part> | (Part extends Present ? never : undefined)
    : never;

/** The same with what holds where something is absent. */
export type Filled<S extends Pick<Section, 'keys'>> = {
  readonly [K in keyof S['keys']]: S['keys'][K] extends { readonly otherwise: infer Otherwise }
    ? Otherwise extends { readonly like: keyof S['keys'] }
      ? GivenOf<S['keys'][Otherwise['like']]>
      : Exclude<GivenOf<S['keys'][K]>, undefined>
    : GivenOf<S['keys'][K]>;
};

/** A row whose value is always there. */
type Present = { readonly isRequired: true } | { readonly default: unknown };

export type ValueOf<R extends Row> = R extends {
  readonly kind: 'word';
  readonly words: readonly (infer Word)[];
}
  ? Word
  : ValueOfKind[R['kind']];
