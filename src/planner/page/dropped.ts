// A file dropped on the page: it takes its place, or is refused and changes nothing.
import { useState } from 'preact/hooks';
import type { Diagnostic } from '../../base/index.js';
import type { PlannerState } from '../state.js';
import { isLogName, type LogReading, withFile } from '../with-file.js';

export interface Refused {
  readonly name: string;
  readonly text: string;
  readonly reading: LogReading;
  readonly errors: readonly Diagnostic[];
}

export interface Dropping {
  /** The last file, where it was refused. */
  readonly refused: Refused | null;
  readonly onDrop: (event: DragEvent) => void;
  /** Takes a file, or the same door log read otherwise. */
  readonly take: (name: string, text: string, reading?: LogReading) => void;
}

export function useDropping(state: PlannerState, change: (next: PlannerState) => void): Dropping {
  const [refused, setRefused] = useState<Refused | null>(null);
  const take = (name: string, text: string, reading: LogReading = {}): void => {
    const taken = withFile(state, name, text, reading);
    setRefused(taken.ok ? null : { name, text, reading, errors: taken.errors });
    if (taken.ok) change(taken.value);
  };
  const onDrop = (event: DragEvent): void => {
    event.preventDefault();
    const file = event.dataTransfer?.files[0];
    if (file !== undefined) void file.text().then((text) => take(file.name, text));
  };
  return { refused, onDrop, take };
}

/** Whether another reading may help. */
export function mayReadOtherwise({ name }: Pick<Refused, 'name'>): boolean {
  return isLogName(name);
}
