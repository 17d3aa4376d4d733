// Every fault of one character in a text, and what becomes of each: a net for what nobody thought of.

interface Faulty {
  /** `-3`: without the third character; `+3`: with that twice; `9@3`: with a 9 in its place. */
  readonly fault: string;
  readonly text: string;
}

/** The faults at every position, or at every `step`th one. */
export function faultsOf(text: string, marks: readonly string[], step = 1): readonly Faulty[] {
  return Array.from({ length: Math.ceil(text.length / step) }, (_, at) => at * step).flatMap(
    (at) => {
      const [before, here, after] = [text.slice(0, at), text.charAt(at), text.slice(at + 1)];
      const place = String(at + 1);
      return [
        { fault: `-${place}`, text: before + after },
        { fault: `+${place}`, text: before + here + here + after },
        ...marks.flatMap((mark) =>
          mark === here ? [] : [{ fault: `${mark}@${place}`, text: before + mark + after }],
        ),
      ];
    },
  );
}

/** Each outcome once, with all that led to it; the one of the text without a fault is left out. */
export function outcomesOfFaults(
  text: string,
  outcome: (text: string) => string,
  marks: readonly string[],
  step = 1,
): readonly string[] {
  const sound = outcome(text);
  const groups = new Map<string, string[]>();
  for (const { fault, text: faulty } of faultsOf(text, marks, step)) {
    const line = outcome(faulty);
    if (line !== sound) groups.set(line, [...(groups.get(line) ?? []), fault]);
  }
  return [sound, ...Array.from(groups, ([line, faults]) => `  ${faults.join(' ')} → ${line}`)];
}
