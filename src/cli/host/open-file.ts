// Opens a file with whatever the desktop opens it with.
import { spawn } from 'node:child_process';

/** Where there is no desktop, nothing happens: the file is there to be opened by hand. */
export function openFile(file: string): void {
  const openers: Partial<Record<NodeJS.Platform, string>> = {
    win32: 'explorer.exe',
    darwin: 'open',
  };
  const opener = openers[process.platform] ?? 'xdg-open';
  const child = spawn(opener, [file], { detached: true, stdio: 'ignore' });
  child.on('error', () => undefined);
  child.unref();
}
