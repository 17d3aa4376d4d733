// What `margin` and `drill` print for people is true to their JSON: the same figures, exact or rounded to the safe side.
import { type CommandCase, mustEnd } from './command-case.js';
import { type Draw, drawFrom } from './draw.js';
import { runIn } from './in-process.js';
import type { Broken, LawCase } from './law-case.js';
import { isTrueFigure, spokenDuration, spokenMs, unwrapped } from './spoken.js';

interface MarginJson {
  readonly limit: { readonly celsius: number; readonly passed: 'rising' | 'falling' };
  readonly worstDelayMs: number;
  readonly responseMs: number;
  readonly cases: readonly MarginCaseJson[];
}

interface MarginCaseJson {
  readonly kind: 'open' | 'ajar';
  readonly tauMs: number;
  readonly toLimitMs: number | null;
  readonly shutAfterMs: number;
  readonly celsiusThen: number;
  readonly leftMs: number | null;
  readonly latestReportWithinMs: number | null;
}

const names = { open: 'door open', ajar: 'door ajar' } as const;

/** A duration in words is a figure of JSON, rounded to one side. */
function spoken(
  [what, text]: readonly [what: string, text: string | undefined],
  exactMs: number,
  rounded: 'up' | 'down',
): Broken {
  const ms = text === undefined ? null : spokenMs(text);
  return ms !== null && isTrueFigure(ms, exactMs, rounded)
    ? []
    : [`${what} "${String(text)}" is not true of ${String(exactMs)} ms`];
}

/** A room with its people, as options of `margin`: it starts within its limit. */
function drawnRoom(draw: Draw): readonly string[] {
  const isNamed = draw.chance(0.1);
  const start = draw.whole(-30, isNamed ? 7 : 30);
  const towards = isNamed || draw.chance(0.6) ? 1 : -1;
  const limit = start + towards * draw.whole(1, 12);
  const stays = towards > 0 && draw.chance(0.2);
  const outside = stays ? start - draw.whole(0, 3) : start + towards * draw.whole(1, 40);
  const duration = (most: number): string => `${String(draw.whole(1, most))}s`;
  return [
    ...['--start', `${String(start)}C`, '--outside', `${String(outside)}C`],
    ...['--limit', isNamed ? 'vaccines' : `${String(limit)}.${String(draw.whole(0, 9))}C`],
    ...['--tau-open', duration(40_000), '--tau-ajar', duration(200_000)],
    ...['--response', draw.pick(['0s', '10m', duration(9_000)])],
  ];
}

/** The words of `margin` are true to its JSON, and its status follows from both. */
export async function marginTextLaw({ one, folder, bounds }: CommandCase): Promise<Broken> {
  const draw = drawFrom(one.seed, 'room', one.index);
  const delay =
    bounds.worstDelayMs.atRest === null
      ? ['--worst-delay', `${String(draw.whole(0, 9_000_000))}ms`]
      : ['-c', 'watch.yaml'];
  const args = ['margin', ...drawnRoom(draw), ...delay];
  const json = await runIn(folder, [...args, '--json']);
  const ran = await runIn(folder, args);
  mustEnd(json, [0, 1]);
  const answer: MarginJson = JSON.parse(json.stdout);
  const isBlind = delay[0] === '-c' && mayRestUnseen(one);
  const inTime = !isBlind && answer.cases.every(({ leftMs }) => leftMs === null || leftMs >= 0);
  const text = unwrapped(ran.stdout);
  const found = new RegExp(`worst detection latency (${spokenDuration}|0 ms),`, 'u').exec(text);
  const broken = [
    ...(ran.status === (inTime ? 0 : 1) && json.status === ran.status
      ? []
      : [`status ${String(ran.status)} and ${String(json.status)}`]),
    ...spoken(['worst detection latency', found?.[1]], answer.worstDelayMs, 'up'),
    ...answer.cases.flatMap((each) => [
      ...headlineBroken(text, each),
      ...rowBroken(ran.stdout, each, answer.limit.passed),
    ]),
  ];
  return broken.length === 0 ? [] : [`${args.join(' ')}: ${broken.join('; ')}: ${ran.stdout}`];
}

/** The file lets the open door rest at a gap up to which its contact may read shut. */
function mayRestUnseen({ watchFile: { contact, sealGapUm, opensAtLeastUm } }: LawCase): boolean {
  if (contact === null || opensAtLeastUm === null) return false;
  return contact.releaseGapUm > sealGapUm && opensAtLeastUm <= contact.releaseGapUm;
}

/** The sentence of a case. */
function headlineBroken(text: string, each: MarginCaseJson): Broken {
  const { kind, toLimitMs, leftMs, latestReportWithinMs } = each;
  const [, says = ''] =
    new RegExp(`${names[kind]}: (.*?)\\.(?: door|$| inside| This holds| NOT in time)`, 'u').exec(
      text,
    ) ?? [];
  if (toLimitMs === null || leftMs === null) {
    return says.endsWith('is never reached') ? [] : [`"${says}" of a limit that is never reached`];
  }
  if (toLimitMs === 0) {
    return says.includes('already') ? [] : [`"${says}" of a limit that is reached at once`];
  }
  const at = (words: string): string | undefined =>
    new RegExp(words.replace('D', `(${spokenDuration})`), 'u').exec(says)?.[1];
  const reached = spoken(['the limit after', at('after D')], toLimitMs, 'down');
  if (leftMs >= 0)
    return [...reached, ...spoken(['before', at('the door D before')], leftMs, 'down')];
  return [
    ...reached,
    ...spoken(['too late', at('the door D TOO LATE')], -leftMs, 'up'),
    ...(latestReportWithinMs === null
      ? says.includes('No alert is early enough')
        ? []
        : [`"${says}" where no alert is early enough`]
      : spoken(['reportWithin', at('must arrive within D')], latestReportWithinMs, 'down')),
  ];
}

/** The row of a case in the table. */
function rowBroken(stdout: string, each: MarginCaseJson, passed: 'rising' | 'falling'): Broken {
  const { kind, toLimitMs, leftMs, latestReportWithinMs, celsiusThen } = each;
  const rows = stdout.split('\n').map((line) => line.trim());
  const row = rows.find((line) => line.startsWith(`${names[kind]}  `)) ?? '';
  const [, , limit, left, then = '', latest] = row.split(/\s{2,}/u);
  const either = (
    cell: readonly [string, string | undefined],
    ms: number | null,
    otherwise: string,
  ): Broken => {
    if (ms !== null) {
      const sign = ms < 0 ? cell[1]?.startsWith('−') : true;
      const size = cell[1]?.replace('−', '');
      return sign === true
        ? spoken([cell[0], size], Math.abs(ms), ms < 0 ? 'up' : 'down')
        : [`${cell[0]} "${String(cell[1])}" is not negative`];
    }
    return cell[1] === otherwise ? [] : [`${cell[0]} "${String(cell[1])}" is not "${otherwise}"`];
  };
  const celsius = Number(/^(−?[\d.]+) °C$/u.exec(then)?.[1]?.replace('−', '-') ?? Number.NaN);
  const worse = passed === 'rising' ? celsius - celsiusThen : celsiusThen - celsius;
  return [
    ...either(['to the limit', limit], toLimitMs, 'never'),
    ...either(['left', left], leftMs, 'all'),
    ...either(['latest', latest], latestReportWithinMs, toLimitMs === null ? 'any' : 'none'),
    ...(worse > -1e-6 && worse < 0.1 + 1e-6 ? [] : [`"${then}" of ${String(celsiusThen)} °C`]),
  ];
}

interface DrillJson {
  readonly steps: readonly {
    readonly actions: readonly { readonly atMs: number }[];
    readonly windows: readonly { readonly fromMs: number; readonly toMs: number }[];
    readonly endsMs: number;
    readonly tells: readonly string[];
  }[];
  readonly totalMs: number;
  readonly atLeastMs: number;
  readonly candidates: number;
  readonly states: { readonly total: number; readonly exercised: number };
  readonly transitions: { readonly total: number; readonly exercised: number };
  readonly faults: { readonly told: readonly string[]; readonly untold: readonly string[] };
  readonly proved: { readonly sureFromMs: number | null; readonly quietUpToMs: number | null };
}

/** The checklist of a drill has the times and counts of its JSON, step by step, exact to the millisecond. */
export async function drillTextLaw({ folder }: CommandCase): Promise<Broken> {
  const args = ['drill', '-c', 'watch.yaml', '--short'];
  const json = await runIn(folder, [...args, '--json']);
  const ran = await runIn(folder, args);
  mustEnd(json, [0]);
  mustEnd(ran, [0]);
  const drill: DrillJson = JSON.parse(json.stdout);
  const [head = '', ...steps] = unwrapped(ran.stdout).split(/ (?=Step \d+ \()/u);
  const broken = [
    ...headBroken(head, drill),
    ...(steps.length === drill.steps.length ? [] : [`${String(steps.length)} steps in words`]),
    ...drill.steps.flatMap((step, index) => stepBroken(steps[index] ?? '', step, index + 1)),
  ];
  return broken.length === 0 ? [] : [`${args.join(' ')}: ${broken.join('; ')}: ${ran.stdout}`];
}

/** All durations in words, in their order. */
function durationsIn(text: string): readonly (number | null)[] {
  return Array.from(text.matchAll(new RegExp(spokenDuration, 'gu')), ([one]) => spokenMs(one));
}

function stepBroken(text: string, step: DrillJson['steps'][number], number: number): Broken {
  const { actions, windows, endsMs, tells } = step;
  const expected = [
    endsMs,
    ...actions.map(({ atMs }) => atMs),
    endsMs,
    ...windows.flatMap(({ fromMs, toMs }) => [fromMs, toMs]),
    endsMs,
  ];
  // How exact the person must be stands between the title and the first action.
  const plan = text.replace(/Be exact in this step: .*? 0 door shut/u, '0 door shut');
  const found = durationsIn(plan.slice(0, plan.lastIndexOf(' until ') + 40));
  const same = expected.every((ms, index) => found[index] === ms);
  const told = /notices ([\d,]+) mistakes?: /u.exec(text)?.[1] ?? '0';
  return [
    ...(same
      ? []
      : [`step ${String(number)}: ${JSON.stringify(found)} is not ${JSON.stringify(expected)}`]),
    ...(Number(told) === tells.length ? [] : [`step ${String(number)} notices ${told} mistakes`]),
  ];
}

function headBroken(head: string, drill: DrillJson): Broken {
  const { steps, totalMs, atLeastMs, candidates, states, transitions, faults, proved } = drill;
  const told = faults.told.length;
  const wanted: readonly (readonly [words: string, figure: number])[] = [
    ['a drill of N steps?\\.', steps.length],
    ['time D in all', totalMs],
    ['among N possible steps?', candidates],
    ['states N of', states.exercised],
    ['states \\d+ of N', states.total],
    ['transitions N of', transitions.exercised],
    ['transitions \\d+ of N', transitions.total],
    ['mistakes noticed N of', told],
    ['mistakes noticed \\d+ of the N', told + faults.untold.length],
    ...(atLeastMs < totalMs ? [['none takes less than D', atLeastMs] as const] : []),
  ];
  const shown = (words: string): string | undefined =>
    new RegExp(words.replace('D', `(${spokenDuration})`), 'u').exec(head)?.[1];
  const at = (words: string) => [words, shown(words)] as const;
  const { sureFromMs, quietUpToMs } = proved;
  const bounds = [
    ...(sureFromMs === null ? [] : spoken(at('always one from D on'), sureFromMs, 'up')),
    ...(quietUpToMs === null || quietUpToMs === 0
      ? []
      : spoken(at('no message for an opening up to D'), quietUpToMs, 'down')),
  ];
  const figures = wanted.flatMap(([words, figure]) => {
    const pattern = words.replace('N', '([\\d,]+)').replace('D', `(${spokenDuration})`);
    const found = new RegExp(pattern, 'u').exec(head.replace('steps, ', 'steps '))?.[1] ?? '';
    const got = words.includes('D') ? spokenMs(found) : Number(found.replaceAll(',', ''));
    return found !== '' && got === figure
      ? []
      : [`"${words}": "${found}" is not ${String(figure)}`];
  });
  const broken = [...bounds, ...figures];
  const over = /at most ([\d.]+) % too long/u.exec(head)?.[1];
  if (over === undefined) return broken;
  const exact = ((totalMs - atLeastMs) / atLeastMs) * 100;
  return Number(over) >= exact && Number(over) < exact + 0.11
    ? broken
    : [...broken, `"at most ${over} % too long" of ${String(exact)} %`];
}
