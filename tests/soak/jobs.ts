// The jobs of the soak, each a function of the seed and its number: a changed input through a command, a changed link
// through the planner, or a law on a random case.
import { existsSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { hashOf, initialState, planning, stateOf } from '../../src/planner/index.js';
import { atWork, type CommandCase } from '../laws/support/command-case.js';
import {
  drillLaw,
  marginLaw,
  remedyLaw,
  reportLaw,
  tuneLaw,
  witnessLaw,
} from '../laws/support/command-laws.js';
import { type Draw, drawFrom } from '../laws/support/draw.js';
import { drillTextLaw, marginTextLaw } from '../laws/support/figure-laws.js';
import { fileLaw } from '../laws/support/file-laws.js';
import { inOwnFolder, runIn } from '../laws/support/in-process.js';
import { type Broken, lawCase } from '../laws/support/law-case.js';
import { plannerLaw } from '../laws/support/planner-law.js';
import { claimsIn, provedLaw } from '../laws/support/proved-laws.js';
import { checkReasonsOf } from '../laws/support/reason-law.js';
import { warningLaw } from '../laws/support/warning-laws.js';
import { batteryLaw, boundsTextLaw, replayTextLaw } from '../laws/support/word-laws.js';
import type { CommandLine, Corpus } from './corpus.js';
import { growthFaults } from './growth-job.js';
import { mutated, noisy } from './mutate.js';
import { faultsIn } from './oracle.js';

/** One job and what it found. */
export interface Done {
  /** Counted by this name. */
  readonly kind: string;
  readonly faults: Broken;
  /** How many reasons were checked. */
  readonly reasons: number;
  /** All that is needed to see it again. */
  readonly again: CommandAgain | CaseAgain;
}

export interface CommandAgain {
  readonly kind: 'command';
  readonly args: readonly string[];
  readonly changed: string | null;
  readonly base64: string;
}

export interface CaseAgain {
  readonly kind: 'case';
  readonly name: CaseKind;
  readonly seed: string;
  readonly index: number;
}

export interface Job {
  readonly again: Done['again'];
  /** Counted by this name. */
  readonly kind: string;
  run(): Promise<Found>;
}

/** What a job found, and how many of the things were checked that are counted besides jobs. */
interface Found {
  readonly faults: Broken;
  readonly reasons: number;
}

/** @param withGrowth whether time may be measured. */
export function jobOf(corpus: Corpus, { seed, index, withGrowth }: JobNumber): Job {
  const draw = drawFrom(seed, 'job', index);
  const drawn = draw.pick(kinds);
  if (drawn === 'command') return commandJob(corpus, commandAgain(corpus, draw));
  const name = drawn === 'growth' && !withGrowth ? 'files' : drawn;
  return caseJob({ kind: 'case', name, seed, index });
}

export interface JobNumber {
  readonly seed: string;
  readonly index: number;
  readonly withGrowth: boolean;
}

/** So many of each in a round: laws that search cost most. */
const kinds = [
  ...Array.from({ length: 60 }, () => 'command' as const),
  ...Array.from({ length: 10 }, () => 'link' as const),
  ...Array.from({ length: 20 }, () => 'files' as const),
  ...Array.from({ length: 8 }, () => 'proved' as const),
  ...Array.from({ length: 10 }, () => 'reasons' as const),
  ...Array.from({ length: 3 }, () => 'growth' as const),
  'agree' as const,
  'words' as const,
];

type CaseKind = Exclude<(typeof kinds)[number], 'command'>;

export function jobAgain(corpus: Corpus, again: Done['again']): Job {
  return again.kind === 'command' ? commandJob(corpus, again) : caseJob(again);
}

function commandAgain(corpus: Corpus, draw: Draw): CommandAgain {
  const { args, file } = drawnLine(corpus, draw);
  if (file === null) {
    return { kind: 'command', args: changedWords(args, draw), changed: null, base64: '' };
  }
  const others = [...corpus.files.values()];
  const text =
    corpus.files.get(draw.chance(0.97) ? file : draw.pick([...corpus.files.keys()])) ?? '';
  const changed = Buffer.from(mutated(text, others, draw));
  const bytes = draw.chance(0.1) ? noisy(changed, draw) : changed;
  return { kind: 'command', args, changed: file, base64: Buffer.from(bytes).toString('base64') };
}

function drawnLine({ lines }: Corpus, draw: Draw): CommandLine {
  const line = draw.pick(lines);
  return draw.chance(line.seldom) ? drawnLine({ files: new Map(), lines }, draw) : line;
}

const words = [
  '',
  '-',
  '--',
  '--json',
  '-c',
  '--seed',
  '-o',
  '--nothing',
  '0',
  '-1',
  'x',
  '3m',
  '1e99',
  'day.yaml',
  'no.yaml',
  'suite',
  '9'.repeat(40),
];

function changedWords(args: readonly string[], draw: Draw): readonly string[] {
  let changed = [...args];
  for (let left = draw.whole(1, 2); left > 0 && changed.length > 0; left -= 1) {
    const at = draw.whole(0, changed.length - 1);
    const word = changed[at] ?? '';
    changed = draw.pick([
      () => changed.toSpliced(at, 1),
      () => changed.toSpliced(at, 0, draw.pick(words)),
      () => changed.with(at, draw.pick(words)),
      () => changed.with(at, mutated(word, [], draw).replaceAll('\u0000', '')),
      () => changed.toSpliced(at, 0, word),
    ])();
  }
  return changed.map((word) => word.replaceAll(/[/\\]/gu, '')).filter((word) => word !== '--open');
}

function commandJob(corpus: Corpus, again: CommandAgain): Job {
  const { args, changed, base64 } = again;
  return {
    kind: changed === null ? 'command lines' : `${args[0] ?? ''} of ${changed}`,
    again,
    run: async () =>
      await inOwnFolder({}, async (folder) => {
        for (const [name, text] of corpus.files) {
          if (!args.some((arg) => arg !== '' && name.startsWith(arg)) && name !== changed) continue;
          mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
          writeFileSync(
            path.join(folder, name),
            name === changed ? Buffer.from(base64, 'base64') : text,
          );
        }
        const before = new Set(readdirSync(folder));
        const ran = await runIn(folder, args);
        const faults = faultsIn(
          ran,
          readdirSync(folder).filter((file) => !before.has(file)),
        );
        return { faults, reasons: 0 };
      }),
  };
}

function caseJob(again: CaseAgain): Job {
  const { name } = again;
  if (name === 'reasons') {
    return { kind: name, again, run: () => Promise.resolve(reasonsOf(again)) };
  }
  const law = laws[name];
  return { kind: name, again, run: async () => ({ faults: await law(again), reasons: 0 }) };
}

/** So many experiments in a row have one logic. */
const reasonCases = 200;

function reasonsOf({ seed, index }: CaseAgain): Found {
  const { broken, reasons } = checkReasonsOf(seed, index * reasonCases, (index + 1) * reasonCases);
  return { faults: broken, reasons };
}

const laws: Readonly<Record<Exclude<CaseKind, 'reasons'>, (again: CaseAgain) => Promise<Broken>>> =
  {
    growth: async ({ seed, index }) => await growthFaults(drawFrom(seed, 'growth', index)),
    link: ({ seed, index }) => Promise.resolve(linkFaults(drawFrom(seed, 'link', index))),
    files: ({ seed, index }) => {
      const one = lawCase(seed, index, 'any');
      return Promise.resolve([...fileLaw(one), ...warningLaw(one)]);
    },
    proved: ({ seed, index }) => Promise.resolve(provedLaw(lawCase(seed, index, 'any'), 6)),
    agree: async ({ seed, index }) =>
      await holding({ seed, index }, async (at, draw) => [
        ...(await witnessLaw(at)),
        ...(await remedyLaw(at, 2)),
        ...(await marginLaw(at)),
        ...plannerLaw(at),
        ...provedLaw(at.one, 4, claimsIn(at.bounds)),
        ...(draw.chance(0.3) ? await tuneLaw(at) : []),
        ...(draw.chance(0.1) ? await drillLaw(at) : []),
      ]),
    words: async ({ seed, index }) =>
      await holding({ seed, index }, async (at, draw) => [
        ...(await boundsTextLaw(at)),
        ...(await replayTextLaw(at)),
        ...(await batteryLaw(at)),
        ...(await marginTextLaw(at)),
        ...(draw.chance(0.1) ? await drillTextLaw(at) : []),
        ...(existsSync(path.resolve('dist', 'pages')) ? await reportLaw(at) : []),
      ]),
  };

async function holding(
  { seed, index }: Pick<CaseAgain, 'seed' | 'index'>,
  law: (at: CommandCase, draw: Draw) => Promise<Broken>,
): Promise<Broken> {
  const draw = drawFrom(seed, 'holding', index);
  const one = lawCase(seed, index, 'quick');
  return (await atWork(one, async (at) => await law(at, draw))) ?? [];
}

/** A link is read or it is not; what is read is planned, or refused with errors. */
function linkFaults(draw: Draw): Broken {
  const hash = hashOf({
    ...initialState,
    watchText: 'watch: { checkInterval: 2m, escalationThreshold: 2 }\n',
    source: {
      kind: 'scenario',
      name: 's.yaml',
      text: 'name: a\nlength: 1d\ndoor: ["at 07:00 for 5m"]\n',
    },
  });
  const text = draw.chance(0.5)
    ? mutated(hash, [], draw)
    : `#${encodeURIComponent(mutated(decodeURIComponent(hash.slice(1)), [], draw).toWellFormed())}`;
  const state = stateOf(text);
  if (state === null) return [];
  const planned = planning()(state);
  return planned.ok || planned.errors.length > 0 ? [] : ['a link is refused without an error'];
}
