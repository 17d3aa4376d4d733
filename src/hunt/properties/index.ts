// All properties by name, with the faults that each is about.
import { type Requirements } from '../../model/index.js';
import type { AdversityKind } from '../adversity.js';
import type { Property } from '../question.js';
import { inTimeProperty, quietProperty, reportedProperty } from './judged.js';
import {
  deliveredInTheEndProperty,
  noFalseAlarmProperty,
  oneAlertPerCooldownProperty,
  retainedMemoryEnoughProperty,
} from './named.js';

export interface NamedProperty {
  readonly property: Property;
  /** What must go wrong for it to be tried at all. */
  readonly about: readonly AdversityKind[];
  /** A requirement of a watch file: `bounds` proves it, or shows how it fails. It proves no other. */
  readonly isRequirement?: true;
}

export const namedProperties: readonly NamedProperty[] = [
  { property: reportedProperty, about: [], isRequirement: true },
  { property: inTimeProperty, about: [], isRequirement: true },
  { property: quietProperty, about: [], isRequirement: true },
  { property: noFalseAlarmProperty, about: [] },
  { property: oneAlertPerCooldownProperty, about: [] },
  { property: deliveredInTheEndProperty, about: ['outages'] },
  { property: retainedMemoryEnoughProperty, about: ['outages', 'power', 'resets'] },
];

/** What the `judge:` section asks for. */
export function judgedProperties(judge: Requirements): readonly NamedProperty[] {
  return namedProperties.filter(({ property: { name } }) => {
    if (name === 'reported') return true;
    if (name === 'in-time') return judge.reportWithinMs !== null;
    return name === 'quiet' && judge.quietUpToMs !== null;
  });
}
