// What the page of a drill knows: the steps in words, and the instants that its clock needs.

/** Both ends included. */
export interface SheetWindow {
  readonly fromMs: number;
  readonly toMs: number;
}

export interface SheetAction {
  readonly atMs: number;
  /** The same as words: "3 min 55 s". */
  readonly at: string;
  readonly deed: string;
}

/** Instants count from the power-on of the step. */
export interface SheetStep {
  readonly lasts: string;
  readonly endsMs: number;
  /** From connecting the battery to disconnecting it. */
  readonly actions: readonly SheetAction[];
  readonly windows: readonly SheetWindow[];
  readonly expectation: string;
  readonly purpose: string;
  /** Empty: no more exact than others. */
  readonly exactness: string;
}

export interface DrillData {
  /** Of the watch file. */
  readonly watch: string;
  readonly steps: readonly SheetStep[];
  /** The command line that judges the record. */
  readonly judge: string;
}

/** As JSON that may stand in a `<script>`: nothing in it can end one. */
export function encodedDrill(data: DrillData): string {
  return JSON.stringify(data).replaceAll('<', '\\u003c');
}
