// What `replay --json` prints, piece by piece: a log of a million openings never becomes one giant text.
import type { JudgedAlert, Verdict } from '../../verdict/index.js';
import type { FirmwareView } from '../../wording/index.js';

const replaySchema = 'dozewatch/replay/1';
const replaySetSchema = 'dozewatch/replay-set/1';

const piece = 1_000;

/**
 * One replay as a JSON object, an opening and an alert a line.
 * @param firmware null: the machine of the watch file ran, and nothing is said of a firmware.
 */
export function* replayJson(
  verdict: Verdict,
  firmware: FirmwareView | null = null,
): Generator<string> {
  const { summary, openings, alerts } = verdict;
  yield `{\n"schema": ${JSON.stringify(replaySchema)},\n"summary": ${JSON.stringify(summary)},\n"openings": `;
  yield* jsonList(openings.count, (index) => {
    const { fromMs, toMs, durationMs, outcome, delayMs } = openings.at(index);
    return { fromMs, toMs, durationMs, outcome, delayMs };
  });
  yield ',\n"alerts": ';
  yield* jsonList(alerts.length, (index) => alertJson(alerts[index]));
  if (firmware !== null) {
    const { file, failure, printed, printedBytes } = firmware;
    yield `,\n"firmware": ${JSON.stringify({ file, failure, printedBytes, printed })}`;
  }
  yield '\n}';
}

/** Several replays as one object: `replays`, each with the `file` and the `name` that it is of. */
export function* replaySetJson(
  replays: Iterable<{
    readonly file: string;
    readonly name: string;
    readonly verdict: Verdict;
    readonly firmware?: FirmwareView | null;
  }>,
): Generator<string> {
  yield `{\n"schema": ${JSON.stringify(replaySetSchema)},\n"replays": [`;
  let separator = '\n';
  for (const { file, name, verdict, firmware } of replays) {
    yield `${separator}{"file": ${JSON.stringify(file)}, "name": ${JSON.stringify(name)}, "replay": `;
    yield* replayJson(verdict, firmware);
    yield '}';
    separator = ',\n';
  }
  yield '\n]\n}';
}

function alertJson(alert: JudgedAlert | undefined): object | undefined {
  if (alert === undefined) return undefined;
  const { decidedMs, deliveredMs, kind, opening } = alert;
  return { decidedMs, deliveredMs, kind, opening };
}

function* jsonList(count: number, itemAt: (index: number) => unknown): Generator<string> {
  let lines: string[] = [];
  yield '[';
  for (let index = 0; index < count; index += 1) {
    lines.push(`${index === 0 ? '\n' : ',\n'}${JSON.stringify(itemAt(index))}`);
    if (lines.length < piece) continue;
    yield lines.join('');
    lines = [];
  }
  yield `${lines.join('')}${count === 0 ? '' : '\n'}]`;
}
