// Why something cannot be written, in words.
import { systemCode } from './system-code.js';

const reasons: Readonly<Record<string, string>> = {
  EACCES: 'you may not write here',
  EPERM: 'you may not write here',
  EROFS: 'this cannot be written: the file system is read-only',
  ENOSPC: 'this cannot be written: no space is left',
  EDQUOT: 'this cannot be written: no more space is allowed',
  ENOENT: 'the folder of this file does not exist',
  ENOTDIR: 'a part of this name is a file, not a folder',
  ENAMETOOLONG: 'no file can have so long a name',
  ELOOP: 'the links at this name lead in a circle',
  ERR_INVALID_ARG_VALUE: 'no file can have this name',
};

export function writeReason(error: Error): string {
  return reasons[systemCode(error) ?? ''] ?? `this cannot be written (${error.message})`;
}
