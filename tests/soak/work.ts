// The working half of the soak, in a process of its own: does one job after the other and reports what it found. The process that
// started it ends it, also when a job does not end by itself.
import { corpus } from './corpus.js';
import { type Done, type Job, jobAgain, jobOf } from './jobs.js';

/** What is sent: which job begins, and its result. */
export type Told =
  | { readonly kind: 'begins'; readonly index: number; readonly again: Done['again'] }
  | { readonly kind: 'done'; readonly index: number; readonly done: Done };

async function work(seed: string, from: number, withGrowth: boolean): Promise<void> {
  const samples = await corpus();
  for (let index = from; ; index += 1) {
    const job = jobOf(samples, { seed, index, withGrowth });
    tell({ kind: 'begins', index, again: job.again });
    tell({ kind: 'done', index, done: await outcome(job) });
    await new Promise((resolve) => setImmediate(resolve));
  }
}

async function outcome(job: Job): Promise<Done> {
  const { kind, again } = job;
  try {
    return { kind, again, ...(await job.run()) };
  } catch (error) {
    const words = error instanceof Error ? (error.stack ?? error.message) : String(error);
    return { kind, again, faults: [words], reasons: 0 };
  }
}

/** One job again. */
async function again(text: string): Promise<void> {
  const samples = await corpus();
  const given: Done['again'] = JSON.parse(text);
  const job = jobAgain(samples, given);
  tell({ kind: 'begins', index: 0, again: job.again });
  tell({ kind: 'done', index: 0, done: await outcome(job) });
}

function tell(told: Told): void {
  process.send?.(told);
}

const [kind = '', one = '', two = '0', growth = ''] = process.argv.slice(2);
await (kind === 'again' ? again(one) : work(one, Number(two), growth === 'growth'));
