// Files in: whole ones for what people write by hand, chunk by chunk for logs. What cannot be text is refused
// here, in words, before anything tries to parse it.

import { constants, createReadStream, openSync, type ReadStream, statSync } from 'node:fs';
import { Socket } from 'node:net';
import path from 'node:path';
import { TextDecoder } from 'node:util';
import { createGunzip } from 'node:zlib';
import { shellWord } from '../../base/index.js';
import { mostTextBytes } from '../../model/index.js';
import { type InputProblem, problem } from '../problem.js';
import type { Io } from './io.js';
import { shippedIfThere } from './shipped.js';
import { systemCode } from './system-code.js';

const chunkBytes = 256 * 1024;

/** A file's bytes as they come; `-` is standard input. */
function bytesOf(file: string, io: Io): AsyncIterable<Uint8Array> {
  if (file === '-') {
    if (io.descriptors !== undefined) io.used.noteRead(io.descriptors.stdin);
    return io.stdin;
  }
  const named = path.resolve(io.folder, file);
  io.used.noteRead(named);
  if (isPipe(named)) return pipeAt(named);
  const stream: ReadStream = createReadStream(named, {
    highWaterMark: chunkBytes,
  });
  return isCompressed(file) ? unpacked(stream) : stream;
}

/** By its name. */
function isCompressed(file: string): boolean {
  return /\.gz$/iu.test(file);
}

function unpacked(stream: ReadStream): AsyncIterable<Uint8Array> {
  const gunzip = createGunzip({ chunkSize: chunkBytes });
  stream.on('error', (error) => gunzip.destroy(error));
  return stream.pipe(gunzip);
}

/** Elsewhere than on Linux a pipe that nobody writes yet looks like one that has come to its end. */
function isPipe(file: string): boolean {
  if (process.platform !== 'linux') return false;
  try {
    return statSync(file).isFIFO();
  } catch {
    // The error is reported when the file is opened.
    return false;
  }
}

/** Opened and read without waiting in the system, where no interrupt would end the wait. */
function pipeAt(file: string): AsyncIterable<Uint8Array> {
  const fd = openSync(file, constants.O_RDONLY | constants.O_NONBLOCK);
  return new Socket({ fd, readable: true, writable: false });
}

/**
 * A file as text, chunk by chunk.
 * @throws InputProblem when it is missing, unreadable, a folder, empty, or not UTF-8 text.
 */
export async function* textChunksOf(
  file: string,
  io: Io,
  onBytes: (count: number) => void = () => undefined,
): AsyncGenerator<string> {
  let decoder = new TextDecoder('utf-8', { fatal: true });
  let read = 0;
  try {
    for await (const bytes of bytesOf(file, io)) {
      if (bytes.length === 0) continue;
      if (read === 0) {
        refusePacked(bytes, file);
        decoder = decoderFor(bytes);
      }
      if (decoder.encoding === 'utf-8' && bytes.includes(0))
        throw notText(file, read + bytes.indexOf(0), 'a zero byte');
      read += bytes.length;
      onBytes(bytes.length);
      yield decode(decoder, bytes, { file, end: read });
    }
  } catch (error) {
    throw readProblem(file, error);
  }
  if (read === 0) throw problem('file-empty', file, { message: 'the file is empty' });
  const rest = decode(decoder, undefined, { file, end: read });
  if (rest !== '') yield rest;
}

/** A whole file as text. @throws InputProblem as `textChunksOf`, and when it is larger than 16 MiB. */
export async function readText(file: string, io: Io): Promise<string> {
  const parts: string[] = [];
  let bytes = 0;
  for await (const part of textChunksOf(file, io, (count) => (bytes += count))) {
    parts.push(part);
    if (bytes > mostTextBytes) {
      throw problem('file-too-large', file, {
        message: 'the file is too large for a watch file or a scenario',
        expected: 'at most 16 MiB',
        hint: 'a door log needs a name that ends in .csv, .tsv, .ndjson or .jsonl, or --format',
      });
    }
  }
  return parts.join('');
}

function decode(
  decoder: TextDecoder,
  bytes: Uint8Array | undefined,
  at: { readonly file: string; readonly end: number },
): string {
  try {
    return bytes === undefined ? decoder.decode() : decoder.decode(bytes, { stream: true });
  } catch {
    throw notText(at.file, null, `bytes that are not ${decoder.encoding.toUpperCase()}`);
  }
}

/** By the mark at the start; UTF-8 without one. */
function decoderFor([first, second]: Uint8Array): TextDecoder {
  const isLittle = first === 0xff && second === 0xfe;
  const isBig = first === 0xfe && second === 0xff;
  const encoding = isLittle ? 'utf-16le' : isBig ? 'utf-16be' : 'utf-8';
  return new TextDecoder(encoding, { fatal: true });
}

/** A compressed file whose name does not say so. */
function refusePacked([first, second]: Uint8Array, file: string): void {
  const isGzip = first === 0x1f && second === 0x8b;
  const isZip = first === 0x50 && second === 0x4b;
  if (!isGzip && !isZip) return;
  const unpack =
    file === '-' ? 'unpack it first, with gunzip -c' : 'give it a name that ends in .gz';
  const hint = isGzip ? unpack : 'unpack it, or export it as CSV';
  throw notText(file, null, isGzip ? 'a compressed file' : 'an archive or a workbook', hint);
}

function notText(file: string, offset: number | null, found: string, hint?: string): InputProblem {
  return problem('file-not-text', file, {
    message: 'this is not a text file',
    found: offset === null ? found : `${found} at byte ${String(offset)}`,
    expected: 'text in UTF-8',
    hint: hint ?? otherEncoding(file),
  });
}

function otherEncoding(file: string): string {
  const from = file === '-' ? '' : ` ${shellWord(file)} > utf8${path.extname(file)}`;
  return `if it is text in another encoding, convert it: iconv -f WINDOWS-1252 -t UTF-8${from}`;
}

const reasons: Readonly<Record<string, readonly [code: string, message: string]>> = {
  ENOENT: ['file-missing', 'there is no such file'],
  ENOTDIR: ['file-missing', 'there is no such file'],
  EISDIR: ['file-is-folder', 'this is a folder, not a file'],
  EACCES: ['file-unreadable', 'you may not read this file'],
  EPERM: ['file-unreadable', 'you may not read this file'],
  ENAMETOOLONG: ['file-missing', 'this name is too long for a file'],
  ERR_INVALID_ARG_VALUE: ['file-missing', 'this cannot be the name of a file'],
};

/** Where the package has an example that was named as in the README; null: it has no such file. */
function shippedExample(file: string): string | null {
  return /^scenarios\/[\w/.-]+$/u.test(file) ? shippedIfThere(file) : null;
}

/** The system's refusal in words; anything else is thrown on. */
export function readProblem(file: string, error: unknown): unknown {
  const code = systemCode(error);
  if (code?.startsWith('Z_') === true) {
    return problem('file-not-text', file, {
      message: 'this file cannot be unpacked',
      found: error instanceof Error ? error.message : '',
      expected: 'gzip, as its name says',
    });
  }
  const reason = code === undefined ? undefined : reasons[code];
  if (reason !== undefined) {
    const example = code === 'ENOENT' ? shippedExample(file) : null;
    const hint = example === null ? {} : { hint: `this example comes with dozewatch: ${example}` };
    return problem(reason[0], file, { message: reason[1], ...hint });
  }
  if (code === undefined || !(error instanceof Error) || !('syscall' in error)) return error;
  return problem('file-unreadable', file, {
    message: 'this file cannot be read',
    found: error.message,
  });
}
