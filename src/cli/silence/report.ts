// What `silence` prints: what no message means, how probable each explanation is, and what to do at the door.

import {
  chanceText,
  counted,
  durationText,
  figure,
  listText,
  numberText,
  percentText,
  roughDurationText,
  sentence,
} from '../../base/index.js';
import { currentText, lifeText } from '../../battery/index.js';
import { localTime, writeDuration } from '../../scenarios/index.js';
import {
  areDaily,
  type Explained,
  type Explanation,
  emptyShare,
  type LowBatteryHeard,
  meanBreakMs,
  type Priors,
  type SilenceAnswer,
  soundExplanations,
} from '../../silence/index.js';
import { isoTime, plainCut } from '../../wording/index.js';
import { cautionWords } from '../layout/caution.js';
import { notInFileText } from '../layout/not-in-file.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText, tableText } from '../layout/table-text.js';
import { doorStepsText } from './door-steps.js';
import { aboutLife, names, type SilenceView, shownFrom } from './view.js';

function brokenShare({ answer }: Pick<SilenceView, 'answer'>): number {
  return answer.explanations
    .filter(({ explanation }) => !soundExplanations.has(explanation))
    .reduce((sum, { probability }) => sum + probability, 0);
}

export function isProbablySound(view: Pick<SilenceView, 'answer'>): boolean {
  return brokenShare(view) < 0.5;
}

/** A device that works is silent this long less often: whatever explains it, it is time for a test at the door. */
const rareFrom = 0.05;

/** That silence is no reason for a test: the device probably works, is often silent this long, and sent its heartbeats. */
export function isOrdinary(view: Pick<SilenceView, 'answer' | 'missing' | 'notInFile'>): boolean {
  const isUsual = isProbablySound(view) && view.answer.soundShare >= rareFrom;
  return isUsual && view.missing.count + view.notInFile.length === 0;
}

/** Schema `dozewatch/silence/1`. */
export function silenceJson(view: SilenceView): string {
  const { file, profile, seed, zone, assumes, observed, answer, priors } = view;
  const { longestGapMs, tests, lifeFrom, hold } = view;
  const at = (epochMs: number): string => isoTime(localTime({ epochMs, timeZone: zone }, 0));
  const { silentSinceMs, explanations, ...rest } = answer;
  const json = {
    schema: 'dozewatch/silence/1',
    file,
    profile,
    seed,
    assumes,
    charged: at(observed.chargedMs),
    now: at(observed.nowMs),
    lastAlert: observed.lastAlertMs === null ? null : at(observed.lastAlertMs),
    lastHeartbeat: observed.lastHeartbeatMs === null ? null : at(observed.lastHeartbeatMs),
    lastLowBattery: observed.lowBattery == null ? null : at(observed.lowBattery.lastMs),
    silentMs: observed.nowMs - silentSinceMs,
    probablySound: isProbablySound(view),
    explanations: explanations.map(({ explanation, probability, sinceMs, emptyByNow }) => ({
      explanation,
      probability,
      since:
        sinceMs === null
          ? null
          : { middle: at(sinceMs.middle), from: at(sinceMs.from), to: at(sinceMs.to) },
      emptyByNow: lifeFrom === null ? null : emptyByNow,
    })),
    heartbeatsMissing: view.missing.gaps.map(({ afterMs, beforeMs, count }) => ({
      after: at(afterMs),
      before: beforeMs === null ? null : at(beforeMs),
      count,
    })),
    notInFile: view.notInFile,
    ...rest,
    hold,
    longestGapMs,
    priors: { ...priors, breakMs: meanBreakMs(priors, longestGapMs) },
    tests: tests.steps,
    emptyByNow: lifeFrom === null ? null : emptyShare(explanations),
    chargedFirst: tests.chargedFirst,
    testsExpectedMs: tests.expectedMs,
  };
  return `${JSON.stringify(json, null, 2)}\n`;
}

export function silenceReport(
  view: SilenceView,
  { width, paint }: { readonly width: number; readonly paint: Paint },
): string {
  const parts = [
    paragraphText(headline(view, paint), width),
    paragraphText(soundText(view), width),
    factsText(facts(view), width),
    `${paint.bold('What ended the messages first')}\n${[...tableText(columns, tableRows(view), width)].join('')}${ruledOut(view, width)}${heldText(view, width)}`,
    `${paint.bold('Assumed of faults before looking at the messages')}\n${factsText(priorRows(view), width)}${outagesText(view, width)}`,
    `${paint.bold(`At the door: the cheapest tests that distinguish them, about ${roughDurationText(Math.ceil(view.tests.expectedMs / 60_000) * 60_000)} on average`)}\n${doorStepsText(view, width)}`,
    paragraphText(paint.dim(relying), width) + paragraphText(paint.dim(cautionWords), width),
  ];
  return parts.join('\n');
}

const relying =
  'Do not rely on silence: an empty, hung or unconnected device is also silent. A heartbeat (watch.heartbeatInterval) makes silence mean something; a drill at the door shows that the alarm works. The figures are only as good as the profile and the assumptions on faults.';

function headline(view: SilenceView, paint: Paint): string {
  const { file, observed, answer } = view;
  const name = paint.bold(plainCut(file ?? 'the defaults', 200));
  const forText = roughDurationText(observed.nowMs - answer.silentSinceMs);
  const broken = brokenShare(view);
  const fault = answer.explanations.find(({ explanation }) => !soundExplanations.has(explanation));
  if (broken < 0.5 || fault === undefined) {
    const missing = missingBeats(view, paint);
    const lead = `${name}: no message for ${forText}. ${missing}`;
    const chance = `The device works with a probability of ${chanceText(1 - broken)}`;
    const meaning = soundWords(answer);
    if (answer.soundShare >= rareFrom) return `${lead}${chance}${meaning}.`;
    const rare = paint.doubtful(
      `But a device that works ${silentLikeThis(view, 'that long')} in ${chanceText(answer.soundShare)} of cases: test it at the door now.`,
    );
    return `${lead}${chance}, by what is assumed below${meaning}. ${rare}`;
  }
  const words = paint.bad(
    `with a probability of ${chanceText(broken)} an alert would no longer reach you`,
  );
  const missing = missingBeats(view, paint);
  return `${name}: no message for ${forText}${missing === '' ? ', and ' : `. ${missing}Otherwise, `}${words}: most probably ${names[fault.explanation]} (${shownShare(answer, fault)})${sinceWords(view, fault)}.${thenWords(view, fault)}${likelierWords(answer, fault)}`;
}

/** A single explanation with which it works may be more probable than each fault, and less than all of them. */
function likelierWords(answer: SilenceAnswer, fault: Explained): string {
  const [first] = answer.explanations;
  if (first === undefined || !soundExplanations.has(first.explanation) || first === fault)
    return '';
  return ` The most probable single explanation is another: ${names[first.explanation]} (${shownShare(answer, first)}).`;
}

/** Why a device that works was silent, where that is more probable than a fault. */
function soundWords(answer: SilenceAnswer): string {
  const sound = answer.explanations.find(({ explanation }) => soundExplanations.has(explanation));
  if (sound === undefined) return '';
  const what = names[sound.explanation].replace(/^it works, and /u, '');
  return `: most probably ${what} (${shownShare(answer, sound)})`;
}

/** Messages came after heartbeats that did not: the network and the firmware worked then. */
function missingBeats(view: SilenceView, paint: Paint): string {
  const { missing, longestOutageMs } = view;
  const { count } = missing;
  const other = notInFileText(view.notInFile);
  if (other !== '') {
    return `${paint.doubtful(sentence(other))} If it is not, nothing below holds. `;
  }
  if (count === 0) return '';
  const accounts = areDaily(longestOutageMs)
    ? 'which outages at their hour would explain'
    : 'and no explanation below accounts for that';
  const lead = `About ${counted(count, 'heartbeat')} did not come that ${count === 1 ? 'was' : 'were'} due before the last message, ${accounts}:`;
  return `${paint.doubtful(`${lead} find out whether the device does not send them, they are lost on the way, or the log leaves them out.`)} If the log leaves them out, nothing below holds. `;
}

/** From this share on it is worth a charge before the tests. */
const mayBeEmptyFrom = 0.1;

function thenWords({ answer, tests, renewal }: SilenceView, { explanation }: Explained): string {
  if (tests.chargedFirst) {
    return explanation === 'flat' ? '' : ' By now the battery is also empty.';
  }
  const held = isHeld(explanation)
    ? ' It does nothing until somebody presses its reset button.'
    : '';
  const empty = emptyShare(answer.explanations);
  if (explanation === 'flat' || empty < mayBeEmptyFrom) return held;
  return `${held} With a probability of ${chanceText(empty)} the battery is also empty by now, whatever came first: ${renewal.give} first.`;
}

function isHeld(explanation: Explanation): boolean {
  return explanation === 'holding' || explanation === 'holding-lost';
}

/** As the table shows it. */
function shownShare(answer: SilenceAnswer, { explanation, probability }: Explained): string {
  return shownShares(answer).get(explanation) ?? chanceText(probability);
}

function sinceWords(view: SilenceView, { sinceMs }: Explained): string {
  return sinceMs === null ? '' : `, since about ${dayOf(view, sinceMs.middle)}`;
}

function dayOf({ zone }: SilenceView, epochMs: number): string {
  return localTime({ epochMs, timeZone: zone }, 0).date;
}

/** The honest form of the owner's question. */
function soundText(view: SilenceView): string {
  const { observed, answer, renewal } = view;
  const { soundShare, heartbeatsDue, soundMiddleMs, soundLongMs, silentSinceMs } = answer;
  const forText = roughDurationText(observed.nowMs - silentSinceMs);
  if (heartbeatsDue > 0) {
    const beats = `A device that works would have sent at least ${counted(heartbeatsDue, 'heartbeat')} in these ${forText}`;
    const isInHeadline = isProbablySound(view) && soundShare < rareFrom;
    return isInHeadline ? `${beats}, a dead one none.` : `${beats}: ${silentWords(view)}`;
  }
  const usual =
    soundMiddleMs === null
      ? 'With this profile alerts are so rare that half of all silences last longer than the simulated years show'
      : `With this profile half of ${observed.lastAlertMs !== null ? 'the silences after an alert' : `the waits from ${renewal.some} to the first alert`} last at least ${roughDurationText(soundMiddleMs, 'at least')}${soundLongMs === null ? '' : `, and one in 20 at least ${roughDurationText(soundLongMs, 'at least')}`}`;
  return `A device that works ${silentLikeThis(view, `${forText} or longer`)} in ${chanceText(soundShare)} of cases, and a dead one always. ${usual}.`;
}

/** How often a device that works is as silent as this one. */
function silentWords(view: SilenceView): string {
  const { soundShare } = view.answer;
  return soundShare === 0
    ? 'it would not be silent for that long; a dead one is.'
    : `it ${silentLikeThis(view, 'that long')} in ${chanceText(soundShare)} of cases, a dead one always.`;
}

/**
 * Of what the share of devices that work is given: where other messages came after the last alert, alerts are missing for
 * longer than messages, and it is of both.
 */
function silentLikeThis({ observed, answer }: SilenceView, messagesFor: string): string {
  const alertsSinceMs = observed.lastAlertMs ?? observed.chargedMs;
  if (alertsSinceMs >= answer.silentSinceMs) return `is silent for ${messagesFor}`;
  const noAlert = `raises no alert for ${roughDurationText(observed.nowMs - alertsSinceMs)}`;
  const beats = answer.heartbeatsDue === 0 ? '' : ' and then sends none of these heartbeats';
  return `${noAlert}${beats}`;
}

function lowBatteryWords(
  { firstMs, lastMs, leftShare }: LowBatteryHeard,
  at: (ms: number) => string,
): string {
  const left =
    leftShare === null ? '' : `, with ${percentText(leftShare)} of the usable charge left`;
  const last = lastMs === firstMs ? '' : `; the last message of it ${at(lastMs)}`;
  return `first reported ${at(firstMs)}${left}${last}`;
}

const lifeFromWords = {
  given: 'as given',
  message: 'by the time to the first low-battery message',
  supply: 'by the supply and this profile',
} as const;

const noLog = ', as no log of messages is given (--messages)';

/** A table of facts is for reading; JSON has all gaps. */
const mostGaps = 3;

function missingRow({ missing, zone }: SilenceView): readonly (readonly [string, string])[] {
  const { gaps, count } = missing;
  if (count === 0) return [];
  const at = (ms: number): string => {
    const { date, time, weekday } = localTime({ epochMs: ms, timeZone: zone }, 0);
    return `${weekday} ${date} ${time.slice(0, 5)}`;
  };
  const shown = gaps
    .slice(0, mostGaps)
    .map(
      (gap) =>
        `${numberText(gap.count)} ${gap.beforeMs === null ? `after ${at(gap.afterMs)}` : `between ${at(gap.afterMs)} and ${at(gap.beforeMs)}`}`,
    );
  const rest = gaps.slice(mostGaps).reduce((sum, gap) => sum + gap.count, 0);
  const all = [...shown, ...(rest === 0 ? [] : [`${numberText(rest)} in later gaps`])];
  return [
    ['heartbeats missing', `about ${numberText(count)} before the last message: ${listText(all)}`],
  ];
}

function facts(view: SilenceView): (readonly [string, string])[] {
  const { observed, answer, lifeFrom, zone } = view;
  const at = (ms: number): string => {
    const { date, time, weekday } = localTime({ epochMs: ms, timeZone: zone }, 0);
    return `${weekday} ${date} ${time.slice(0, 5)} (${roughDurationText(observed.nowMs - ms)} ago)`;
  };
  const life =
    lifeFrom === null
      ? 'unknown: no supply section and no --lasts, so an empty battery is NOT among the explanations'
      : answer.lifeMs === null
        ? 'for more than a hundred years, by the supply'
        : `${lifeFrom === 'given' ? durationText(answer.lifeMs) : `about ${aboutLife(answer.lifeMs)}`}, ${lifeFromWords[lifeFrom]}${outlivedText(view)}`;
  return [
    ['profile', plainCut(view.profile, 600)],
    [view.renewal.done === 'charged' ? 'last charged' : 'last new cells', at(observed.chargedMs)],
    [view.renewal.lasts, life],
    [
      'last alert',
      observed.lastAlertMs === null
        ? `none since ${view.renewal.last}${view.hasMessages ? '' : noLog}`
        : at(observed.lastAlertMs),
    ],
    ...(view.hasHeartbeat || observed.lastHeartbeatMs !== null
      ? ([
          [
            'last heartbeat',
            observed.lastHeartbeatMs === null
              ? `none since ${view.renewal.last}`
              : at(observed.lastHeartbeatMs),
          ],
        ] as const)
      : []),
    ...missingRow(view),
    ...(observed.lowBattery == null
      ? []
      : ([['low battery', lowBatteryWords(observed.lowBattery, at)]] as const)),
    ...(view.assumes.length > 0 ? ([['assumed', view.assumes.join('; ')]] as const) : []),
  ];
}

/** A message long after the charge should have been used up: the life that is assumed is too short, or it was charged since. */
function outlivedText({ observed, answer, priors, renewal }: SilenceView): string {
  const { lastAlertMs, lastHeartbeatMs, chargedMs } = observed;
  const lastMs = Math.max(lastAlertMs ?? chargedMs, lastHeartbeatMs ?? chargedMs);
  const longestMs = (answer.lifeMs ?? Number.POSITIVE_INFINITY) * (1 + 2 * priors.lifeSpread);
  if (lastMs - chargedMs <= longestMs) return '';
  return `; yet a message came ${roughDurationText(lastMs - chargedMs)} after ${renewal.last}, so ${renewal.lasts} longer than that (measure it with --calibrate of dozewatch battery), or it had ${renewal.some} since (--charged)`;
}

const columns = [
  { title: 'explanation' },
  { title: 'probability', align: 'right' },
  { title: 'since about' },
  { title: 'with 90 % between' },
] as const;

function tableRows(view: SilenceView) {
  const shown = shownShares(view.answer);
  return view.answer.explanations
    .filter(({ probability }) => probability >= shownFrom)
    .map(({ explanation, sinceMs }) => ({
      cells: [
        names[explanation],
        shown.get(explanation) ?? '',
        sinceMs === null ? '' : dayOf(view, sinceMs.middle),
        sinceMs === null || explanation === 'holding'
          ? ''
          : daysText(dayOf(view, sinceMs.from), dayOf(view, sinceMs.to)),
      ],
      below: [],
    }));
}

/** Both ends of an interval, or the one day that it lies in. */
function daysText(from: string, to: string): string {
  return from === to ? 'that day' : `${from} and ${to}`;
}

/**
 * The shares of the table in tenths of a per cent that add up to that of all of it: each is rounded down, and those that lose
 * most of a tenth get it back (largest remainder).
 */
function shownShares({ explanations }: SilenceAnswer): ReadonlyMap<Explanation, string> {
  const rows = explanations.filter(({ probability }) => probability >= shownFrom);
  const whole = Math.round(rows.reduce((sum, { probability }) => sum + probability, 0) * 1_000);
  const floors = rows.map(({ probability }) => Math.floor(probability * 1_000));
  const left = whole - floors.reduce((sum, floor) => sum + floor, 0);
  const lost = rows
    .map(({ probability }, index) => ({ index, part: (probability * 1_000) % 1 }))
    .sort((a, b) => b.part - a.part || a.index - b.index);
  const raised = new Set(lost.slice(0, left).map(({ index }) => index));
  return new Map(
    rows.map(({ explanation, probability }, index) => {
      const tenths = (floors[index] ?? 0) + (raised.has(index) ? 1 : 0);
      const isAll = tenths === 1_000 && probability < 1;
      // A row that is shown is at least 0.05 %.
      const share = tenths === 0 ? 'less than 0.1 %' : `${(tenths / 10).toFixed(1)} %`;
      return [explanation, isAll ? 'more than 99.95 %' : share];
    }),
  );
}

function ruledOut(view: SilenceView, width: number): string {
  const rare = view.answer.explanations.filter(({ probability }) => probability < shownFrom);
  if (rare.length === 0) return '';
  const list = rare.map(({ explanation }) => names[explanation]).join('; ');
  return paragraphText(`less than 0.05 % each: ${list}`, width, '  ');
}

/** How to recognise a device that holds, and what to do: it makes no checks, so nothing but a reset or new power ends it. */
function heldText({ answer, hold, renewal }: SilenceView, width: number): string {
  const shown = new Set(
    answer.explanations.flatMap(({ explanation, probability }) =>
      isHeld(explanation) && probability >= shownFrom ? [explanation] : [],
    ),
  );
  if (hold === null || shown.size === 0) return '';
  const draws =
    hold.currentNa === null
      ? ''
      : ` It stays awake and draws ${currentText(hold.currentNa)}: ${renewal.fullLasts} ${lifeText(hold.lastsMs)} at that current.`;
  const lost = shown.has('holding-lost')
    ? ' It also waits after an alert that the network accepted and then lost: then nobody knows that it waits. An alert that finds no network is tried again, and the device goes on checking.'
    : '';
  return paragraphText(
    `A device that waits for a reset makes no checks. Its lamp stays dark, and it sends no alert, no heartbeat and no low-battery message, whatever the door does.${draws} Press its reset button, or ${renewal.give} if its battery is empty.${lost}`,
    width,
    '  ',
  );
}

/** A heartbeat has one try, so an outage that ends costs it. Without a longest outage nothing above allows for that. */
function outagesText({ answer, longestOutageMs }: SilenceView, width: number): string {
  if (answer.heartbeatsDue === 0) return '';
  const single = 'A heartbeat that meets an outage is not tried again';
  const text = areDaily(longestOutageMs)
    ? `${single}. An alert is: it then comes up to ${durationText(longestOutageMs)} late.`
    : longestOutageMs > 0
      ? `${single}. An outage of a day or more (environment.longestOutage) also keeps alerts away, so it is none of the explanations with which the device works: count it with --prior network.`
      : `A network outage that ends is none of these. ${single}, and outages at the same hour each day can cost several in a row: then this answer is too gloomy. If your network has outages, write how long they last at most in the watch file, such as environment: { longestOutage: 1h }: then they are among the explanations.`;
  return paragraphText(text, width, '  ');
}

/** Of a watch with heartbeats, in whose watch file the network has outages. */
function outageRows({ priors, longestOutageMs }: SilenceView): (readonly [string, string])[] {
  const { outagesPerYear, spellMs } = priors;
  return [
    [
      'spells of outages at the same hour',
      `${figure(outagesPerYear)} per year (--prior outages=${String(outagesPerYear)}/year)`,
    ],
    [
      'such a spell lasts, on average',
      `${roughDurationText(spellMs)} (--prior spell=${writeDuration(spellMs)})`,
    ],
    [
      'an outage in it lasts',
      `${durationText(longestOutageMs)} each day (environment.longestOutage)`,
    ],
  ];
}

/** Rounded to a duration that the option takes. */
function breakText(priors: Priors, longestGapMs: number): string {
  const hours = Math.max(1, Math.round(meanBreakMs(priors, longestGapMs) / 3_600_000));
  const text = writeDuration(hours * 3_600_000);
  const gap = roughDurationText(longestGapMs, 'at most');
  return `${roughDurationText(hours * 3_600_000)} (--prior break=${text}); the longest gap between two openings of the profile is ${gap}`;
}

function priorRows(view: SilenceView): (readonly [string, string])[] {
  const { priors, hold, longestGapMs, renewal } = view;
  const rate = (perYear: number, name: string): string =>
    `${figure(perYear)} per year (--prior ${name}=${String(perYear)}/year)`;
  const share = (part: number, name: string): string =>
    `${chanceText(part)} (--prior ${name}=${String(Number((part * 100).toPrecision(6)))}%)`;
  return [
    ['network ends for good', rate(priors.networkPerYear, 'network')],
    ['firmware hangs', rate(priors.firmwarePerYear, 'firmware')],
    ['contact reads shut for good', rate(priors.contactPerYear, 'contact')],
    ['messages lost', share(priors.lostShare, 'lost')],
    ...(view.hasHeartbeat && areDaily(view.longestOutageMs) ? outageRows(view) : []),
    ['silences that begin with a break of use', share(priors.unusedShare, 'unused')],
    ['such a break lasts, on average', breakText(priors, longestGapMs)],
    ...(hold !== null
      ? ([['alerts that nobody answers', share(priors.unansweredShare, 'unanswered')]] as const)
      : []),
    [`spread of ${renewal.life}`, share(priors.lifeSpread, 'life')],
  ];
}
