// What a bench file gives to the runner: `export async function run(): Promise<BenchReport>`.

/** One thing measured. */
interface BenchRow {
  readonly name: string;
  readonly value: number;
  /** Of `value`, such as `device-years/s` or `ms`. */
  readonly unit: string;
}

/** Measurements of one file, made in one process: only there are ratios worth something. */
export interface BenchReport {
  readonly title: string;
  /** The name of the row that the others are divided by. */
  readonly baseline: string;
  readonly rows: readonly BenchRow[];
}
