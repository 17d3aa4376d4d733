// The report of an internal error: enough to find it, and nothing about the person.
import { InvariantError, shellWord } from '../../base/index.js';

export interface FaultScene {
  readonly version: string;
  /** Such as `node v20.20.2, linux x64`. */
  readonly platform: string;
  readonly commandLine: readonly string[];
  /** Paths that begin so are the person's own, and are shortened to `~`. */
  readonly homeFolder: string | undefined;
}

const mostFrames = 12;
const mostFactCharacters = 2_000;

export function faultText(error: unknown, scene: FaultScene): string {
  const facts = error instanceof InvariantError ? [`  facts: ${factsText(error.facts)}`] : [];
  const text = [
    'dozewatch failed. This is an internal error of dozewatch, not an error in your input or your watch.',
    'Please report the lines below, with the files that the command names if you may share them:',
    '',
    `  dozewatch ${scene.version}, ${scene.platform}`,
    `  command: dozewatch ${scene.commandLine.map(shellWord).join(' ')}`,
    `  error: ${error instanceof Error ? `${error.name}: ${error.message}` : String(error)}`,
    ...facts,
    ...framesOf(error).map((frame) => `    ${frame}`),
    '',
  ].join('\n');
  const { homeFolder } = scene;
  const tidy =
    homeFolder === undefined || homeFolder.length < 2 ? text : text.replaceAll(homeFolder, '~');
  return tidy.replace(/[^\P{Cc}\n]/gu, '\ufffd');
}

function factsText(facts: Readonly<Record<string, unknown>>): string {
  const text = JSON.stringify(facts, (_, value: unknown) => plainFact(value));
  return text.length > mostFactCharacters ? `${text.slice(0, mostFactCharacters)}…` : text;
}

/** JSON has no infinity and no big integers, and nobody reads long columns of numbers. */
function plainFact(value: unknown): unknown {
  if (typeof value === 'bigint' || (typeof value === 'number' && !Number.isFinite(value))) {
    return String(value);
  }
  if (value instanceof Float64Array) return `${String(value.length)} numbers`;
  return value;
}

/** The stack without folders, which are about the person's machine. */
function framesOf(error: unknown): string[] {
  if (!(error instanceof Error)) return [];
  return (error.stack ?? '')
    .split('\n')
    .filter((line) => /^\s+at /u.test(line))
    .slice(0, mostFrames)
    .map((line) =>
      line
        .trim()
        .split(/([\s()]+)/u)
        .map((word) => word.slice(Math.max(word.lastIndexOf('/'), word.lastIndexOf('\\')) + 1))
        .join(''),
    );
}
