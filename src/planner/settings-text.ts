// Settings as a short text that a link, a two-dimensional code or a person carries: the settings that differ from what holds
// anyway, each with its key, and a checksum behind them.
import { err, fnv1a32, ok, type Result } from '../base/index.js';
import { allSettings, settingAt } from '../model/index.js';
import { type Settings } from './settings.js';
import { usualOf } from './usual.js';

const mark = '~';
const checkLetters = 6;

/** `watch.checkInterval=2m&judge.leaveOpenAfter=5m&~1x2y3z`; of settings that are all as usual just the checksum. */
export function settingsText(set: Settings): string {
  const pairs = allSettings.flatMap(({ key }) => {
    const text = (set[key] ?? '').trim();
    return text === '' || text === usualOf(key, set) ? [] : [`${key}=${encoded(text)}`];
  });
  return withCheck(pairs.join('&'));
}

/** A text with its checksum, to find out later whether it came whole. */
export function withCheck(text: string): string {
  return `${text}${text === '' ? '' : '&'}${mark}${checkOf(text)}`;
}

/** What is found of a text that carries a checksum. */
export type Checked =
  | { readonly kind: 'whole'; readonly text: string }
  | { readonly kind: 'damaged' | 'unmarked' };

/** Marks behind the checksum, as a letter or a sentence adds them, do not count. */
export function checked(text: string): Checked {
  const at = text.lastIndexOf(mark);
  if (at < 0) return { kind: 'unmarked' };
  const sum = /^[0-9a-z]*/u.exec(text.slice(at + 1))?.[0] ?? '';
  const rest = text.slice(at + 1 + sum.length);
  const body = text.slice(0, at).replace(/&$/u, '');
  const isWhole = sum === checkOf(body) && /^[^0-9A-Za-z]*$/u.test(rest);
  return isWhole ? { kind: 'whole', text: body } : { kind: 'damaged' };
}

/** Settings from their text, or from a link that ends in it. */
export function readSettingsText(given: string): Result<Settings> {
  const text = given.trim().replace(/^[^#]*#/u, '');
  const found = checked(text);
  const source = { file: 'settings' };
  if (found.kind !== 'whole') {
    return err({
      severity: 'error',
      code: 'settings-text-damaged',
      source,
      message:
        found.kind === 'damaged'
          ? 'a part of this text is missing or was changed'
          : 'this is not a text of settings: it has no checksum at its end',
      expected: 'a text such as watch.checkInterval=3m&~ and a checksum',
      hint: 'copy it again, whole',
    });
  }
  const set: Record<string, string> = {};
  for (const pair of found.text.split('&').filter((one) => one !== '')) {
    const at = pair.indexOf('=');
    const key = pair.slice(0, Math.max(0, at));
    if (settingAt(key) === undefined) {
      return err({
        severity: 'error',
        code: 'settings-text-unknown',
        source,
        message: `there is no setting ${key === '' ? pair : key}`,
        hint: 'the text is of another version of dozewatch',
      });
    }
    set[key] = decoded(pair.slice(at + 1));
  }
  return ok(set);
}

/** Letters that links carry as they are stay readable. */
function encoded(text: string): string {
  return encodeURIComponent(text)
    .replaceAll('%2F', '/')
    .replaceAll('%3A', ':')
    .replaceAll('%2C', ',')
    .replaceAll(mark, '%7E');
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

/** FNV-1a of 32 bits, in base 36. */
function checkOf(text: string): string {
  return (fnv1a32(text) % 36 ** checkLetters).toString(36).padStart(checkLetters, '0');
}
