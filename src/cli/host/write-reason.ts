// The system's reasons for a failed write, in words.
import { systemCode } from './system-code.js';

const reasons: Readonly<Record<string, string>> = {
  EACCES: 'you may not write here',
  EPERM: 'you may not write here',
  EROFS: 'this cannot be written: the file system is read-only',
  ENOSPC: 'this cannot be written: no space is left',
  EDQUOT: 'this cannot be written: your disk quota is used up',
  ENOENT: 'the folder of this file does not exist',
  ENOTDIR: 'a part of this name is a file, not a folder',
  ENAMETOOLONG: 'this name is too long for a file',
  ELOOP: 'the links at this name go in a circle',
  ERR_INVALID_ARG_VALUE: 'this cannot be the name of a file',
};

export function writeReason(error: Error): string {
  return reasons[systemCode(error) ?? ''] ?? `this cannot be written (${error.message})`;
}
