// `dozewatch bounds`: searches each watch, then reports its bounds, draws them and writes witnesses.
import { counted, invariant, plain, shellWord } from '../../base/index.js';
import type { Bounds } from '../../bounds/index.js';
import { mostUrlCharacters, pricedYears } from '../../model/index.js';
import { bouncesTooMuch, type UsageProfile, type WatchOverride } from '../../scenarios/index.js';
import { allHolds, type BoundsView } from '../../wording/index.js';
import { overridesOf } from '../arguments/watch-overrides.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { refuseStdout } from '../host/outputs.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { refuseUnfitOutputs } from '../host/write-output.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { loadProfile } from '../inputs/usage-of.js';
import { nextLine, watchWords } from '../layout/next-line.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { problem } from '../problem.js';
import type { BoundsJsonInput } from './json.js';
import type { BoundsOptions } from './options.js';
import { type SearchOutcome, type SearchTask, searchAll } from './search.js';
import type { CertificateOutcome } from './write-certificate.js';
import type { WrittenWitnesses } from './write-witnesses.js';

/** Warnings about requirements: nothing to say where none is stated. */
const ofRequirements: ReadonlySet<string> = new Set([
  'leave-open-too-short-at-rest',
  'report-late-at-rest',
]);

interface Answer {
  readonly watch: LoadedWatch;
  readonly bounds: Bounds;
  readonly overrides: readonly WatchOverride[];
  readonly isJudged: boolean;
  readonly usage?: NonNullable<BoundsView['usage']>;
}

/** @throws InputProblem for input that cannot be read or believed, and for outputs that cannot be written. */
export async function bounds(
  watches: readonly string[],
  options: BoundsOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  const files = filesOf(watches, options);
  await refuseOutputs(files, options, io);
  const overrides = overridesOf(options);
  const watched: LoadedWatch[] = [];
  for (const file of files.length === 0 ? [undefined] : files) {
    const loaded = await loadWatch(file, io, overrides, options.logic);
    const paint = paintFor('stderr', on);
    const warnings = loaded.warnings.filter(
      ({ code }) => isJudged(loaded, options) || !ofRequirements.has(code),
    );
    await writeDiagnostics(warnings, { io, paint });
    watched.push(loaded);
  }
  if (options.certificate !== undefined) {
    const { refuseUncertifiable } = await import('./write-certificate.js');
    for (const watch of watched) refuseUncertifiable(searchTask(watch, options));
  }
  const profile =
    options.profile === undefined ? null : await usageFor(watched, options.profile, io);
  const tasks = watched.map((watch) => searchTask(watch, options));
  const outcomes = await searchAll(
    profile === null ? tasks : tasks.map((task) => ({ ...task, profile })),
    io,
  );
  const answers = watched.map((watch, index) => answered(watch, options, outcomes[index]));
  const [first] = answers;
  const { certified, written } = first === undefined ? nothing : await filesFor(first, options, io);
  await report(answers, { ...on, options, written, certified });
  if (certified?.kind === 'refused') throw certified.problem;
  const held = answers.every((answer) => {
    const view = viewOf(answer);
    return allHolds(view, 'atRest') && (options.strict !== true || allHolds(view, 'anyState'));
  });
  return held ? 0 : 1;
}

/** @throws InputProblem for a profile that cannot be read, or that one of the watches cannot be priced with. */
async function usageFor(
  watched: readonly LoadedWatch[],
  name: string,
  io: Io,
): Promise<UsageProfile> {
  const profile = await loadProfile(name, io);
  const none = { outages: null, powerCuts: null };
  const bouncy = watched.find(({ watchFile: { contact } }) =>
    bouncesTooMuch({ profile, contact, ...none }),
  );
  if (bouncy === undefined) return profile;
  throw problem('too-many-edges', bouncy.name ?? '--profile', {
    message: 'the contact would change too many times per year',
    hint: 'lower contact.bounceTime in the watch file',
  });
}

interface Written {
  readonly certified: CertificateOutcome | null;
  readonly written: WrittenWitnesses | null;
}

const nothing: Written = { certified: null, written: null };

/** Writers are loaded only when a file is wanted. */
async function filesFor(answer: Answer, options: BoundsOptions, io: Io): Promise<Written> {
  const { certificate, witness, chart, sheet, logic } = options;
  const { watch, overrides, bounds: found } = answer;
  let { certified, written } = nothing;
  if (certificate !== undefined) {
    const { writeCertificate } = await import('./write-certificate.js');
    const proved = found.alwaysReportedFromMs;
    certified = await writeCertificate(certificate, {
      task: searchTask(watch, options),
      proved,
      io,
    });
  }
  if (witness !== undefined) {
    const { writeWitnesses } = await import('./write-witnesses.js');
    written = await writeWitnesses(found.witnesses, watch, {
      folder: witness,
      overrides,
      logic,
      io,
    });
  }
  if (chart !== undefined) {
    const { writePicture } = await import('../layout/write-picture.js');
    await writePicture(chart, await chartOf(answer, options), io);
  }
  if (sheet !== undefined) {
    const { writeSheet } = await import('./write-sheet.js');
    await writeSheet(sheet, { watch, overrides, bounds: found, options, io });
  }
  return { certified, written };
}

/** The defaults alone require nothing; a file does, and so do the options that state a requirement. */
function isJudged({ name }: LoadedWatch, options: BoundsOptions): boolean {
  const { leaveOpenAfter, reportWithin, quietUpTo } = options;
  return (
    name !== null || [leaveOpenAfter, reportWithin, quietUpTo].some((one) => one !== undefined)
  );
}

function searchTask(watch: LoadedWatch, options: BoundsOptions): SearchTask {
  const { watchFile, program } = watch;
  const { logic } = options;
  return {
    watchFile,
    table: program.table,
    ownLogic: logic !== undefined,
    isJudged: isJudged(watch, options),
  };
}

/** The watch files on a command line. @throws InputProblem when they do not go together. */
function filesOf(watches: readonly string[], { config }: BoundsOptions): readonly string[] {
  if (config !== undefined && watches.length > 0) {
    throw problem('watch-named-twice', '--config', {
      message: 'watch files are given with --config and as arguments',
      found: [config, ...watches].join(' '),
      hint: 'give them either with --config or as arguments',
    });
  }
  const files = config === undefined ? watches : [config];
  if (files.filter((file) => file === '-').length > 1) {
    throw problem('standard-input-twice', '-', {
      message: 'standard input can be read only once',
      hint: 'give all but one of the watches as files',
    });
  }
  return files;
}

async function refuseOutputs(
  files: readonly string[],
  options: BoundsOptions,
  io: Io,
): Promise<void> {
  const { witness, certificate, chart, sheet, logic } = options;
  if (sheet !== undefined && logic !== undefined) {
    throw problem('options-exclude', '--sheet', {
      message:
        'a data sheet gives the settings of the watch to take along, and --logic replaces the watch',
      hint: 'leave out --sheet or --logic',
    });
  }
  refusePlannerUrl(options);
  if (certificate !== undefined && logic !== undefined) {
    throw problem('options-exclude', '--certificate', {
      message: "a certificate covers only the watch's own logic, which --logic replaces",
      hint: 'leave out --certificate or --logic',
    });
  }
  for (const [option, output] of [
    ['--witness', witness],
    ['--certificate', certificate],
    ['--chart', chart],
    ['--sheet', sheet],
  ] as const) {
    if (output === undefined) continue;
    refuseStdout(option, output);
    if (files.length <= 1) continue;
    throw problem('one-watch-only', option, {
      message: 'this option takes one watch at a time',
      found: `${String(files.length)} watches`,
      hint: 'run bounds once for each watch',
    });
  }
  const outputs = [
    { option: '--certificate', file: certificate ?? '-' },
    { option: '--chart', file: chart ?? '-' },
    { option: '--sheet', file: sheet ?? '-' },
    { option: '--witness', file: witness ?? '-', isFolder: true as const },
  ];
  await refuseUnfitOutputs(outputs, { inputs: [...files, logic], io });
  const pictures = [chart, sheet].filter((file) => file !== undefined);
  if (pictures.length === 0) return;
  const { pictureFormat } = await import('../layout/write-picture.js');
  for (const file of pictures) pictureFormat(file);
}

/** @throws InputProblem when it is no address of a page, or nothing takes it. */
function refusePlannerUrl({ plannerUrl, sheet }: BoundsOptions): void {
  if (plannerUrl === undefined) return;
  if (sheet === undefined) {
    throw problem('option-missing', '--planner-url', {
      message: 'this option is for a data sheet',
      hint: 'add --sheet sheet.svg',
    });
  }
  if (/^https?:\/\/[^\s#]+$/u.test(plannerUrl) && plannerUrl.length <= mostUrlCharacters) return;
  throw problem('url-unreadable', '--planner-url', {
    message: 'this is not the address of a page',
    found: plannerUrl,
    expected: `http:// or https:// and a page without #, of at most ${String(mostUrlCharacters)} characters`,
    hint: '--planner-url https://example.org/planner.html',
  });
}

/** @throws InputProblem when the search outgrew its limit before anything was known. */
function answered(
  watch: LoadedWatch,
  options: BoundsOptions,
  outcome: SearchOutcome | undefined,
): Answer {
  const overrides = overridesOf(options);
  invariant(outcome !== undefined, 'every watch is searched');
  if (outcome.kind === 'found') {
    const { bounds: found, falseAlarmsPerYear } = outcome;
    const { profile } = options;
    return {
      watch,
      overrides,
      bounds: found,
      isJudged: isJudged(watch, options),
      ...(profile === undefined
        ? {}
        : { usage: { name: profile, years: pricedYears, falseAlarmsPerYear } }),
    };
  }
  throw problem('too-many-states', watch.name ?? 'the defaults', {
    message: `the search met more than ${counted(outcome.mostStates, 'state')} and stopped, so no bound is known`,
    hint: 'allow fewer power losses and resets, narrower ranges, or a smaller escalationThreshold',
  });
}

function viewOf({ watch, overrides, bounds: found, isJudged, usage }: Answer): BoundsView {
  const given = overrides.map(({ source, text }) => `${source} ${text}`);
  const { name, watchFile, logicName } = watch;
  return {
    watchName: name,
    overrides: given,
    watchFile,
    logicName,
    bounds: found,
    isJudged,
    ...(usage === undefined ? {} : { usage }),
  };
}

async function chartOf(answer: Answer, { dark, title, width }: BoundsOptions): Promise<string> {
  const { detectionChart } = await import('../../chart/index.js');
  const { watch, bounds: found } = answer;
  const named = watch.name ?? 'the watch';
  return detectionChart({
    bounds: found,
    watchFile: watch.watchFile,
    file: named === '-' ? 'standard input' : named,
    options: { theme: dark === true ? 'dark' : 'light', title, widthPx: width },
  });
}

async function report(
  answers: readonly Answer[],
  on: {
    readonly io: Io;
    readonly style: Style;
    readonly options: BoundsOptions;
    readonly written: WrittenWitnesses | null;
    readonly certified: CertificateOutcome | null;
  },
): Promise<void> {
  const { io, options, written, certified } = on;
  if (options.json === true) {
    const inputs = answers.map(
      (answer): BoundsJsonInput => ({
        ...viewOf(answer),
        witnessFiles: written?.ofWitness ?? [],
      }),
    );
    const [one] = inputs;
    const { boundsJson, boundsListJson } = await import('./json.js');
    await io.stdout.write(
      one !== undefined && inputs.length === 1 ? boundsJson(one) : boundsListJson(inputs),
    );
    return;
  }
  const paint = paintFor('stdout', on);
  const isStrict = options.strict === true;
  const views = answers.map((answer) => ({ ...viewOf(answer), isStrict }));
  const { columns } = io.stdout;
  const [view] = views;
  const pieces =
    view !== undefined && views.length === 1
      ? (await import('./report.js')).boundsReport(view, columns, paint)
      : (await import('./comparison.js')).boundsComparison(views, columns, paint);
  for (const piece of pieces) await print(io, piece);
  if (views.length > 1) await print(io, changeLine(answers, options));
  if (written !== null) await print(io, witnessesText(written));
  if (certified?.kind === 'written') {
    const [{ watch, overrides } = { watch: null, overrides: [] }] = answers;
    await print(io, `\nCertificate: ${certified.words}\n${checkText(watch, overrides, options)}`);
  }
  if (options.chart !== undefined) await print(io, `\nPicture: ${plain(options.chart)}\n`);
  if (options.sheet !== undefined) await print(io, `\nData sheet: ${plain(options.sheet)}\n`);
}

/** How to see what to change in the first of several watches that does not meet all that is required; empty: each does. */
function changeLine(answers: readonly Answer[], options: BoundsOptions): string {
  const failing = answers.find((answer) => !allHolds(viewOf(answer), 'atRest'));
  if (failing === undefined) return '';
  const { watch, overrides } = failing;
  return nextLine('what to change in the first that fails', [
    ...['bounds', ...watchWords(watch.name, { ...options })],
    ...overrides.flatMap(({ source, text }) => [source, text]),
  ]);
}

/** The command that checks a certificate. */
function checkText(
  watch: LoadedWatch | null,
  overrides: readonly WatchOverride[],
  { certificate = '' }: BoundsOptions,
): string {
  const name = watch?.name ?? null;
  const words = [
    ...['dozewatch', 'verify', shellWord(certificate)],
    ...(name === null ? [] : ['-c', shellWord(name)]),
    ...overrides.flatMap(({ source, text }) => [source, shellWord(text)]),
  ];
  return `Check it: ${plain(words.join(' '))}\n`;
}

function witnessesText({ ofWitness, watchFile }: WrittenWitnesses): string {
  const files = [
    ...ofWitness.filter((file) => file !== null),
    ...(watchFile === null ? [] : [watchFile]),
  ];
  const left = ofWitness.filter((file) => file === null).length;
  const bounce =
    left === 0
      ? ''
      : `  ${counted(left, 'more', 'more')} not written: the contact's bounce or the end of the charge, which bounds ignore, changes what happens, or the run is too long for a scenario file\n`;
  return `\nWitnesses:\n${files.map((file) => `  ${plain(file)}\n`).join('')}${bounce}`;
}
