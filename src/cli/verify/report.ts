// The result of checking a certificate: for people, and as JSON.
import { counted, durationText, plain, roundedDurationText, sentence } from '../../base/index.js';
import { type BounceMargins, type Gaps, quietInSpiteOf } from '../../bounds/index.js';
import type { Environment, Requirements } from '../../model/index.js';
import type { WatchOverride } from '../../scenarios/index.js';
import {
  type Certificate,
  type CertifiedBounds,
  notReachedIn,
  type Refusal,
  sizeOf,
  type Verdict,
} from '../../verify/index.js';
import { environmentText, gapsWords, notReachedText, plainCut } from '../../wording/index.js';
import { nextLine, watchWords } from '../layout/next-line.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText } from '../layout/table-text.js';

export interface VerifyView {
  readonly file: string;
  /** Null: the defaults. */
  readonly watchName: string | null;
  /** `--no-config` was given. */
  readonly noConfig: boolean;
  /** What may go wrong by the watch file and the options. */
  readonly wanted: Environment;
  /** Options that override the watch file. */
  readonly overrides: readonly WatchOverride[];
  readonly verdict: Verdict;
  /** For which openings the bounds hold; null: for all. */
  readonly gaps: Gaps | null;
  /** What the bounce of the contact takes from them. */
  readonly bounce: BounceMargins;
  /** What the watch file requires; null: there is no file. */
  readonly judge: Requirements | null;
}

export function* verifyReport(view: VerifyView, width: number, paint: Paint): Generator<string> {
  const { file, verdict } = view;
  const name = paint.bold(file === '-' ? 'standard input' : plainCut(file, 200));
  if (verdict.kind !== 'verified') {
    yield `${name}: ${paint.bad('refused')}, so it proves nothing.\n\n`;
    yield factsText(refusalRows(verdict), width);
    yield `\n${paragraphText(refusedWords, width)}`;
    if (file === '-') return;
    yield nextLine('write it again', boundsWords(view, file));
    return;
  }
  const { bounds, environment } = verdict.certificate;
  const { states, transitions } = sizeOf(verdict.certificate);
  const notReached = notReachedIn(verdict.certificate);
  const gaps = gapsWords(view.gaps);
  yield `${name}: ${paint.good('verified')}${gaps === null ? '' : `, ${gaps}`}.\n\n`;
  const isHarsher = environmentText(environment) !== environmentText(view.wanted);
  const watch = view.watchName === null ? 'the defaults' : plainCut(view.watchName, 200);
  const rows: (readonly [string, string])[] = [
    ['watch file', watch],
    ['may go wrong', environmentText(environment)],
    ...boundsRows(bounds),
    ...requirementRows(bounds, view, isHarsher),
  ];
  yield factsText(rows, width);
  const done = `Checked ${counted(states, 'state')} and everything that can happen next in each: ${counted(transitions, 'transition')}.`;
  yield `\n${paragraphText(done, width)}`;
  const reached =
    notReached.length === 0
      ? 'A run reaches every bound, so each is exact.'
      : sentence(
          `these bounds hold, but no run shows that they are reached, so they may not be exact: ${notReachedText(notReached)}`,
        );
  yield paragraphText(reached, width);
  if (isHarsher) {
    const more = `The certificate covers more than the watch file and the options allow to go wrong (${environmentText(view.wanted)}): its bounds hold, but may be too cautious for that.`;
    yield paragraphText(more, width);
  }
}

/** What a refusal means for the bounds, and what it may come from. */
const refusedWords =
  'The file was changed or damaged after bounds wrote it, or it is not from bounds. Whether its bounds are true is open. ' +
  'If verify refuses an unchanged file that bounds has just written, that is an error of dozewatch: do not rely on the bounds, and report it.';

function refusalRows({ place, message, found, expected }: Refusal): (readonly [string, string])[] {
  return [
    ['where', plain(place)],
    ['why', plain(message)],
    ...(found === undefined ? [] : [['found', plain(readable(place, found))] as const]),
    ...(expected === undefined ? [] : [['expected', plain(readable(place, expected))] as const]),
  ];
}

/** The command that writes the certificate of a watch again, with the options that were given. */
export function boundsWords(
  { watchName, noConfig, overrides }: Pick<VerifyView, 'watchName' | 'noConfig' | 'overrides'>,
  file: string,
): readonly string[] {
  const given = overrides.flatMap(({ source, text }) => [source, text]);
  return ['bounds', ...watchWords(watchName, { noConfig }), ...given, '--certificate', file];
}

/** The keys of a watch file behind those of a certificate. */
const deviceKeys: Readonly<Record<string, string>> = {
  boot: 'bootTime',
  connect: 'connectTime',
  longestPowerLoss: 'powerLossLasting',
};

/** A time of a certificate, such as 120000 at /watch/checkIntervalMs, as `checkInterval: 2 min`. */
export function readable(place: string, value: string): string {
  const [, name, end] = /\/([A-Za-z]+)Ms(?:\/([A-Za-z]+))?$/u.exec(place) ?? [];
  const [, digits, more = ''] = /^(\d{1,15})( or (?:more|less))?$/u.exec(value) ?? [];
  if (name === undefined || digits === undefined) return value;
  const ms = `${durationText(Number(digits))}${more}`;
  if (place.startsWith('/bounds/')) return ms;
  return `${deviceKeys[name] ?? name}${end === undefined ? '' : ` (${end})`}: ${ms}`;
}

function boundsRows(bounds: CertifiedBounds): (readonly [string, string])[] {
  const {
    alwaysReportedFromMs,
    alwaysDecidedFromMs,
    worstDelayMs,
    neverAlarmedUpToMs,
    bestDelayMs,
  } = bounds;
  const both = (of: CertifiedBounds['worstDelayMs']): string => {
    // Rounded so that they stay true; --json has them exact.
    const any =
      of.anyState === null
        ? 'no bound from any state'
        : `${roundedDurationText(of.anyState, 'at most')} from any state`;
    return `${roundedDurationText(of.atRest, 'at most')} at rest, ${any}`;
  };
  return [
    ['sure from', both(alwaysReportedFromMs)],
    ['alert always decided from', both(alwaysDecidedFromMs)],
    ['worst detection latency', both(worstDelayMs)],
    ['quiet up to', `${roundedDurationText(neverAlarmedUpToMs, 'at least')} at rest`],
    ['best detection latency', `${roundedDurationText(bestDelayMs, 'at least')} at rest`],
  ];
}

const notShownForBounce = 'not shown, because the contact bounces';

/** Whether the bounds meet each requirement. */
function requirementRows(
  { alwaysReportedFromMs, worstDelayMs, neverAlarmedUpToMs }: CertifiedBounds,
  { judge, gaps, bounce }: VerifyView,
  isHarsher: boolean,
): (readonly [string, string])[] {
  if (judge === null) return [];
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = judge;
  // At a gap at which the contact reads shut, no door is ever reported.
  const isBlind = gaps?.kind === 'blind';
  // Where less may go wrong than in the proof, a requirement that the proof does not meet may be met.
  const unmet = isHarsher ? 'not shown by this certificate' : 'NOT met';
  const met = (of: CertifiedBounds['worstDelayMs'], limitMs: number): string => {
    if (isBlind) return 'NOT met';
    if (of.atRest > limitMs) return unmet;
    if (of.atRest + bounce.lateMs.atRest > limitMs) return notShownForBounce;
    if (of.anyState !== null && of.anyState + bounce.lateMs.anyState <= limitMs) return 'met';
    return isHarsher ? `met at rest; from any state ${unmet}` : 'met at rest, not from any state';
  };
  const rows: (readonly [string, string])[] = [
    [
      `leaveOpenAfter ${durationText(leaveOpenAfterMs)}`,
      met(alwaysReportedFromMs, leaveOpenAfterMs),
    ],
  ];
  if (reportWithinMs !== null) {
    const name = `reportWithin ${durationText(reportWithinMs)}`;
    rows.push([name, met(worstDelayMs, reportWithinMs)]);
  }
  if (quietUpToMs !== null) {
    const isShown = quietUpToMs <= quietInSpiteOf(bounce, neverAlarmedUpToMs);
    const isQuiet = quietUpToMs <= neverAlarmedUpToMs ? notShownForBounce : unmet;
    rows.push([`quietUpTo ${durationText(quietUpToMs)}`, isShown ? 'met' : isQuiet]);
  }
  return rows;
}

/** Schema `dozewatch/verify/4`. */
export function verifyJson({ verdict }: VerifyView): string {
  const schema = 'dozewatch/verify/4';
  const { kind, ...refusal } = verdict;
  const facts = kind === 'verified' ? factsOf(verdict.certificate) : refusal;
  return `${JSON.stringify({ schema, verdict: kind, ...facts }, null, 2)}\n`;
}

function factsOf(certificate: Certificate): object {
  const { bounds } = certificate;
  const environment = { ...certificate.environment, checksum: undefined };
  return { bounds, environment, notReached: notReachedIn(certificate), ...sizeOf(certificate) };
}
