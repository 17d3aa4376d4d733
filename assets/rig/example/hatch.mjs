// The hatch of a goose house as a firmware in JavaScript: dozewatch rig --process "node hatch.mjs" week.yaml
// It speaks the protocol of docs/rig.md: one line asks, one line answers. What it keeps over sleep it retains as a line of JSON.
import { createInterface } from 'node:readline';

const lines = createInterface({ input: process.stdin })[Symbol.asyncIterator]();

/** The device was reset, or lost its power, while it waited for an answer. */
class Woken {
  constructor(line) {
    this.line = line;
  }
}

async function hear() {
  const { value, done } = await lines.next();
  if (done) process.exit(0);
  return value;
}

async function ask(request) {
  process.stdout.write(`${request}\n`);
  const answer = await hear();
  if (answer.startsWith('wake ')) throw new Woken(answer);
  return answer;
}

async function wake(retained) {
  const kept = retained === '' ? { looks: 0, unsent: false, tries: 0, calledMs: null } : JSON.parse(retained);
  if ((await ask('contact')) === 'open') kept.looks = Math.min(2, kept.looks + 1);
  else Object.assign(kept, { looks: 0, calledMs: null });
  if (kept.calledMs !== null && Number(await ask('clock')) - kept.calledMs >= 1_800_000) kept.calledMs = null;
  if (kept.looks === 2 && kept.calledMs === null) kept.unsent = true;
  let sleepMs = 120_000;
  if (kept.unsent) {
    await ask(`retain ${JSON.stringify(kept)}`);
    if ((await ask('send the hatch is open')) === 'delivered') {
      Object.assign(kept, { unsent: false, tries: 0, calledMs: Number(await ask('clock')) });
    } else {
      kept.tries = (kept.tries + 1) % 5;
      sleepMs = kept.tries === 0 ? 120_000 : 60_000;
    }
  }
  await ask(`retain ${JSON.stringify(kept)}`);
  await ask(`sleep ${sleepMs}`);
}

let line = await hear();
for (;;) {
  try {
    await wake(line.split(' ').slice(2).join(' '));
  } catch (woken) {
    if (!(woken instanceof Woken)) throw woken;
    line = woken.line;
  }
}
