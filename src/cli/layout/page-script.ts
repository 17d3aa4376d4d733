// The script of a page as pages carry it: packed, and known by its hash.
import { createHash } from 'node:crypto';
import { gzipSync } from 'node:zlib';
import { type PageScript, pageScript } from '../../report/index.js';
import { shippedText } from '../host/shipped.js';

/** @param page such as `planner` */
export async function shippedScript(page: 'drill' | 'planner' | 'report'): Promise<PageScript> {
  return pageScript(await shippedText(`dist/pages/${page}.js`), { pack, hashOf });
}

/** Gzip in base 64. */
export function pack(text: string): string {
  return gzipSync(text, { level: 9 }).toString('base64');
}

function hashOf(text: string): string {
  return `sha256-${createHash('sha256').update(text).digest('base64')}`;
}
