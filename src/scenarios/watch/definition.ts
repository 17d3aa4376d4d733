// The definition of a watch file, made from the table of settings: its keys, their ranges and their defaults.
import * as z from 'zod';
import {
  type Filled,
  type Given,
  type Kind,
  type Relation,
  type Row,
  relations,
  type Section,
  settings,
} from '../../model/index.js';
import { section, textField } from '../text/fields.js';
import { fieldOf } from './kinds.js';

/** The whole watch file. */
export const watchDefinition = z
  .strictObject({
    $schema: textField('The schema that an editor checks this file with.', 1_000).optional(),
    watch: sectionField(settings.watch, relations.watch).prefault({}),
    device: sectionField(settings.device).prefault({}),
    judge: sectionField(settings.judge).prefault({}),
    contact: orAbsent(sectionField(settings.contact, relations.contact)),
    door: sectionField(settings.door, relations.door).prefault({}),
    supply: orAbsent(sectionField(settings.supply, relations.supply)),
    answer: orAbsent(sectionField(settings.answer, relations.answer)),
    delivery: sectionField(settings.delivery).prefault({}),
    environment: sectionField(settings.environment, relations.environment).prefault({}),
  })
  .meta({
    title: 'Watch file',
    description: 'A sleeping door monitor, and what you require of it.',
  });

function sectionField<S extends Section>(
  part: S,
  rules: readonly Relation<Given<S>>[] = [],
): z.ZodType<Given<S>> {
  return givenField(part).transform((given, context) => {
    for (const { code, at, says, hint, isBroken } of rules) {
      if (!isBroken(given)) continue;
      context.addIssue({ code: 'custom', path: [...at], message: says, params: { code, hint } });
    }
    return given;
  });
}

/** A section on its own, without what its settings must be to each other. */
export function givenField<S extends Section>({ help, keys }: S): z.ZodType<Given<S>> {
  // Each row's kind says the type of its value, which a shape made from entries forgets: this says it again.
  return section(help, shapeOf(keys)).pipe(z.custom<Given<S>>());
}

function shapeOf(keys: Section['keys']): Readonly<Record<string, z.ZodType>> {
  return Object.fromEntries(
    Object.entries(keys).map(([key, part]) => [
      key,
      part.kind === 'section' ? innerField(part) : keyField(part),
    ]),
  );
}

function innerField(part: Section): z.ZodType {
  if (part.isOptional !== true) return givenField(part).prefault({});
  const meta = { description: part.help, type: ['object', 'null'] };
  return orAbsent(z.strictObject(shapeOf(part.keys)).meta(meta));
}

function keyField(row: Row): z.ZodType {
  const field = fieldOf(row);
  if (row.default !== undefined) return field.prefault(row.default);
  if (hasParts(row.kind)) return orAbsent(field);
  return row.isRequired === true ? field : field.optional();
}

/** Written as a map or a list, as sections are. */
function hasParts(kind: Kind): boolean {
  return kind === 'activity' || kind === 'derating' || kind === 'voltageCurve';
}

/** An optional section without a line in it is as good as none. */
function orAbsent<Of extends z.ZodType>(field: Of) {
  return z.preprocess((value) => (value === null ? undefined : value), field.optional());
}

/** A definition takes longer to build than to use, and each of these is asked for with every file. */
const standIns = new WeakMap<Row, unknown>();

function standIn(row: Row, written: unknown): unknown {
  if (!standIns.has(row)) standIns.set(row, fieldOf(row).parse(written));
  return standIns.get(row);
}

/** What is given of a section, and what holds where something is absent. */
export function filled<S extends Section>({ keys }: S, given: Given<S>): Filled<S> {
  const values = new Map<string, unknown>(Object.entries(given));
  for (const [key, part] of Object.entries(keys)) {
    if (part.kind === 'section' || values.get(key) !== undefined) continue;
    const { otherwise } = part;
    if (otherwise === undefined) continue;
    values.set(
      key,
      typeof otherwise === 'object' ? values.get(otherwise.like) : standIn(part, otherwise),
    );
  }
  return z.custom<Filled<S>>().parse(Object.fromEntries(values));
}
