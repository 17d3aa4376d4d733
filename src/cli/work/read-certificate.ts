// A certificate's file as JSON: it may be far longer than what people write by hand.
import type { Io } from '../host/io.js';
import { textChunksOf } from '../host/read-text.js';
import { InputProblem, problem } from '../problem.js';

const mostMebibytes = 256;

/** @throws InputProblem when the file cannot be read, or is not JSON. */
export async function readCertificate(file: string, io: Io): Promise<unknown> {
  const parts: string[] = [];
  let bytes = 0;
  for await (const part of textChunksOf(file, io, (count) => (bytes += count))) {
    parts.push(part);
    if (bytes > mostMebibytes * 1024 * 1024) {
      throw problem('file-too-large', file, {
        message: 'the file is larger than a certificate can be',
        expected: `at most ${String(mostMebibytes)} MiB`,
      });
    }
  }
  const text = parts.join('');
  try {
    const json: unknown = JSON.parse(text);
    return json;
  } catch (error) {
    throw notJson(file, text, error);
  }
}

function notJson(file: string, text: string, error: unknown): InputProblem {
  const message = error instanceof Error ? error.message : '';
  const [, digits] = /position (\d+)/u.exec(message) ?? [];
  const offset = digits === undefined ? text.length : Number(digits);
  const before = text.slice(0, offset).split('\n');
  return new InputProblem([
    {
      code: 'json-syntax',
      severity: 'error',
      source: { file, line: before.length, column: (before.at(-1)?.length ?? 0) + 1 },
      message: 'the file is not JSON',
      expected: 'a certificate as `dozewatch bounds --certificate` writes it',
    },
  ]);
}
