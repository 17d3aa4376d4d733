// A year with the device: the charge as a line, and below it, day by day, the door, the leave-opens, the messages and the
// outages. Where the device was off for want of charge, a gap goes through all of it.
import { scaleLinear } from 'd3-scale';
import type { VNode } from 'preact';
import { dayMs, greatestOf } from '../base/index.js';
import type { AlertKind, OpeningOutcome } from '../verdict/index.js';
import type { Spans } from '../world/index.js';
import { ShareAxis, sideWordsPx } from './detection/axes.js';
import { At, Bar, type Block, Shape, stretchPx, type TimeScale, Words } from './drawing.js';
import { square, triangleUp } from './glyphs.js';
import { AlertMark, OutcomeMark } from './marks.js';
import { px } from './numbers.js';
import type { Figure } from './page/figures.js';
import { headOf, type Note } from './page/head.js';
import { type LegendEntry, legendOf } from './page/legend.js';
import { panelTitle } from './page/panel-title.js';
import { documentText, innerPx, lineOf, Sheet, sheetWidthPx, usualWidthPx } from './page/sheet.js';
import { cutText } from './text.js';
import { type PictureTheme, themes } from './theme.js';

export interface YearInput {
  /** Of the watch file. */
  readonly name: string;
  readonly subtitle: string;
  readonly note: Note;
  /** Each name says what its value counts; with `alarm`, a value other than 0 has a badge. */
  readonly figures: readonly (Pick<Figure, 'name' | 'value'> & Partial<Pick<Figure, 'alarm'>>)[];
  /** Which of the simulated years is drawn, and what was counted in it. */
  readonly strip: string;
  /** Firsts of months, and their short names. */
  readonly months: readonly { readonly atMs: number; readonly label: string }[];
  readonly lengthMs: number;
  /** Null: nothing is known of the charge. */
  readonly charge: readonly { readonly atMs: number; readonly left: number }[] | null;
  readonly openings: Spans;
  readonly leaveOpens: readonly { readonly fromMs: number; readonly outcome: OpeningOutcome }[];
  readonly alerts: readonly { readonly atMs: number; readonly kind: AlertKind }[];
  readonly lowBatteryMs: readonly number[];
  readonly charges: readonly number[];
  /** What a mark of `charges` is: `charged`. */
  readonly charged: string;
  readonly networkDown: Spans;
  readonly flat: readonly { readonly fromMs: number; readonly toMs: number }[];
}

export interface YearChartOptions {
  /** Width of the picture in pixels, 560 to 4000; default 1120. */
  readonly widthPx?: number | undefined;
  /** Default light. */
  readonly theme?: PictureTheme | undefined;
}

const chargePx = 170;
const doorPx = 54;
const lanePx = 26;
const lanesGapPx = 8;
const countsPx = 40;
/** Two marks of messages side by side. */
const messagePx = 12;
/** Where marks would cover more than this share of their lane, they hide each other: days are counted instead. */
const mostCovered = 0.5;
const axisPx = 22;
const namesPx = sideWordsPx + 22;

/** Draws a year as a whole SVG document, the same bytes every time. */
export function yearChart(
  input: YearInput & { readonly options?: YearChartOptions | undefined },
): string {
  const { options = {}, name, subtitle, note, figures } = input;
  const widthPx = sheetWidthPx(options.widthPx ?? usualWidthPx);
  const fullPx = innerPx(widthPx, false);
  const title = cutText(`A year with ${name}`, fullPx, { sizePx: 22, bold: true });
  const shown = figures.map(
    ({ alarm, ...figure }): Figure => ({
      ...figure,
      alarm: figure.value === '0' ? null : (alarm ?? null),
      late: false,
      share: 1,
    }),
  );
  const blocks = [
    headOf({ title, subtitles: [subtitle], figures: shown, note }, fullPx),
    yearPanel(input, fullPx),
    legendOf(entriesOf(input, isCrowded(input, fullPx - namesPx)), fullPx),
    lineOf('dozewatch year'),
  ];
  return documentText(
    <Sheet
      title={title}
      description={`${subtitle}. ${note.words}`}
      theme={themes[options.theme ?? 'light']}
      widthPx={widthPx}
      blocks={blocks}
      bare={false}
    />,
  );
}

type Marked = Exclude<OpeningOutcome, 'brief' | 'reported'>;

/** The gap around it says that there was no charge. */
function markOf(outcome: Marked): Marked {
  return outcome === 'unpowered' ? 'missed' : outcome;
}

interface Lane {
  readonly name: string;
  readonly height: number;
  readonly node: (x: TimeScale) => VNode;
}

function yearPanel(input: YearInput, fullPx: number): Block {
  const { lengthMs, months, flat, strip } = input;
  const widthPx = fullPx - namesPx;
  const x = scaleLinear([0, lengthMs], [0, widthPx]);
  const lanes = lanesOf(input, widthPx);
  const title = panelTitle(strip, fullPx);
  const topY = title.height + 6;
  let y = 0;
  const placed = lanes.map((lane) => {
    const at = y;
    y += lane.height + lanesGapPx;
    return { lane, y: at };
  });
  const footY = y - lanesGapPx;
  const grid = months.map(({ atMs }) => `M${px(x(atMs))} 0V${px(footY + 5)}`).join('');
  return {
    height: topY + footY + axisPx,
    node: (
      <g>
        {title.node}
        <At x={namesPx} y={topY}>
          {placed.map(({ lane, y: at }) => (
            <Bar x={0} y={at} width={widthPx} height={lane.height} class="dw-panel" />
          ))}
          <Shape class="dw-rule" d={grid} />
          {flat.map((span) => (
            <Gap {...stretchPx(x, span, 1.5)} height={footY} />
          ))}
          {placed.map(({ lane, y: at }) => (
            <At y={at}>
              {lane.name === '' ? null : (
                <Words x={-10} y={lane.height / 2 + 4} anchor="end" class="dw-soft">
                  {lane.name}
                </Words>
              )}
              {lane.node(x)}
            </At>
          ))}
          {monthNames(months, x, widthPx).map(({ label, at }) => (
            <Words x={at} y={footY + 16} class="dw-soft">
              {label}
            </Words>
          ))}
        </At>
      </g>
    ),
  };
}

/** The device was off. */
function Gap(props: {
  readonly x: number;
  readonly width: number;
  readonly height: number;
}): VNode {
  return (
    <g>
      <Bar {...props} y={0} class="dw-void" title="off: no charge" />
      <Shape class="dw-failed-tick" d={`M${px(props.x)} 0v${px(props.height)}`} />
    </g>
  );
}

const monthRoomPx = 34;

/** Every month where it has room, else every other one. */
function monthNames(months: YearInput['months'], x: TimeScale, widthPx: number) {
  const every = Math.ceil((monthRoomPx * months.length) / widthPx);
  return months
    .filter((_, index) => index % every === 0)
    .map(({ atMs, label }) => ({ label, at: x(atMs) + 4 }))
    .filter(({ at }) => at + monthRoomPx <= widthPx + 10);
}

function lanesOf(input: YearInput, widthPx: number): readonly Lane[] {
  const { charge, charges, leaveOpens, networkDown, openings, lengthMs } = input;
  const isDown = networkDown.fromMs.length > 0;
  return [
    ...(charge === null
      ? []
      : [
          {
            name: '',
            height: chargePx,
            node: (x: TimeScale) => (
              <ChargeLine
                charge={charge}
                charges={charges}
                charged={input.charged}
                x={x}
                widthPx={widthPx}
              />
            ),
          },
        ]),
    {
      name: 'openings',
      height: doorPx,
      node: (x) => (
        <DayBars atMs={openings.fromMs} lengthMs={lengthMs} height={doorPx} look="dw-brief" x={x} />
      ),
    },
    {
      name: 'leave-opens',
      height: lanePx,
      node: (x) => <LeaveOpens leaveOpens={leaveOpens} x={x} />,
    },
    ...messageLanes(input, widthPx),
    ...(isDown
      ? [
          {
            name: 'network',
            height: lanePx / 2,
            node: (x: TimeScale) => <Outages networkDown={networkDown} x={x} />,
          },
        ]
      : []),
  ];
}

/** Whether the marks of the alerts would hide each other: one for each alert needs more width than there is. */
function isCrowded({ alerts }: YearInput, widthPx: number): boolean {
  return alerts.length * messagePx > mostCovered * widthPx;
}

/** One lane of marks; or alerts and false alarms counted by day, and a lane for the low battery. */
function messageLanes(input: YearInput, widthPx: number): readonly Lane[] {
  const { alerts, lowBatteryMs, lengthMs } = input;
  if (!isCrowded(input, widthPx)) {
    return [
      {
        name: 'messages',
        height: lanePx,
        node: (x) => <Messages alerts={alerts} lowBatteryMs={lowBatteryMs} x={x} />,
      },
    ];
  }
  const counted = (name: string, look: string, isOf: (kind: AlertKind) => boolean): Lane[] => {
    const atMs = alerts.filter(({ kind }) => isOf(kind)).map((alert) => alert.atMs);
    const node = (x: TimeScale): VNode => (
      <DayBars atMs={atMs} lengthMs={lengthMs} height={countsPx} look={look} x={x} />
    );
    return atMs.length === 0 ? [] : [{ name, height: countsPx, node }];
  };
  return [
    ...counted('alerts', 'dw-reported', (kind) => kind !== 'false'),
    ...counted('false alarms', 'dw-fill-false', (kind) => kind === 'false'),
    ...(lowBatteryMs.length === 0
      ? []
      : [
          {
            name: 'low battery',
            height: lanePx,
            node: (x: TimeScale) => <Messages alerts={[]} lowBatteryMs={lowBatteryMs} x={x} />,
          },
        ]),
  ];
}

type Drawn<Name extends keyof YearInput> = Pick<YearInput, Name> & { readonly x: TimeScale };

function LeaveOpens({ leaveOpens, x }: Drawn<'leaveOpens'>): VNode {
  return (
    <g>
      {leaveOpens.map(({ fromMs, outcome }) =>
        outcome === 'reported' || outcome === 'brief' ? (
          <Shape class="dw-reported" d={square(x(fromMs), lanePx / 2, 2.2)} />
        ) : null,
      )}
      {leaveOpens.map(({ fromMs, outcome }) =>
        outcome === 'reported' || outcome === 'brief' ? null : (
          <OutcomeMark outcome={markOf(outcome)} x={x(fromMs)} y={lanePx / 2} r={5} />
        ),
      )}
    </g>
  );
}

/** False alarms over the others. */
function Messages({ alerts, lowBatteryMs, x }: Drawn<'alerts' | 'lowBatteryMs'>): VNode {
  const others = alerts.filter(({ kind }) => kind !== 'false');
  const falseOnes = alerts.filter(({ kind }) => kind === 'false');
  return (
    <g>
      {[...others, ...falseOnes].map(({ atMs, kind }) => (
        <AlertMark
          delivered
          kind={kind}
          x={x(atMs)}
          y={lanePx / 2}
          r={kind === 'false' ? 5.5 : 3.2}
        />
      ))}
      {lowBatteryMs.map((atMs) => (
        <Shape class="dw-low-battery" d={triangleUp(x(atMs), lanePx / 2, 5)} title="low battery" />
      ))}
    </g>
  );
}

function Outages({ networkDown, x }: Drawn<'networkDown'>): VNode {
  const { fromMs, toMs } = networkDown;
  const spans = Array.from(fromMs, (from, index) => ({ fromMs: from, toMs: toMs[index] ?? from }));
  return (
    <g>
      {spans.map((span) => (
        <Bar {...stretchPx(x, span, 1.5)} y={0} height={lanePx / 2} class="dw-network-cap" />
      ))}
    </g>
  );
}

function ChargeLine(props: {
  readonly charge: NonNullable<YearInput['charge']>;
  readonly charges: readonly number[];
  readonly charged: string;
  readonly x: TimeScale;
  readonly widthPx: number;
}): VNode {
  const { charge, charges, charged, x, widthPx } = props;
  const y = scaleLinear([0, 1.06], [chargePx, 0]);
  const line = charge
    .map(({ atMs, left }, index) => `${index === 0 ? 'M' : 'L'}${px(x(atMs))} ${px(y(left))}`)
    .join('');
  const ticks = [0, 0.25, 0.5, 0.75, 1].map((share) => ({
    y: y(share),
    words: `${String(share * 100)} %`,
  }));
  return (
    <g>
      <ShareAxis ticks={ticks} widthPx={widthPx} />
      <Shape class="dw-curve" d={line} />
      {charges.map((atMs) => (
        <Shape class="dw-delivered" d={triangleUp(x(atMs), y(1), 4.5)} title={charged} />
      ))}
    </g>
  );
}

/** How many there were on each day, as bars. */
function DayBars(props: {
  readonly atMs: Iterable<number>;
  readonly lengthMs: number;
  readonly height: number;
  readonly look: string;
  readonly x: TimeScale;
}): VNode {
  const { atMs, lengthMs, height: fullPx, look, x } = props;
  const days = Array.from({ length: Math.ceil(lengthMs / dayMs) }, () => 0);
  for (const ms of atMs) {
    const day = Math.floor(ms / dayMs);
    days[day] = (days[day] ?? 0) + 1;
  }
  const most = Math.max(1, greatestOf(days));
  const wide = x(dayMs) - x(0);
  const bars = days
    .map((count, day) => {
      const height = (count / most) * (fullPx - 4);
      const left = x(day * dayMs);
      return count === 0
        ? ''
        : `M${px(left)} ${px(fullPx)}v${px(-height)}h${px(Math.max(0.5, wide * 0.8))}v${px(height)}z`;
    })
    .join('');
  return (
    <g>
      <Shape class={look} d={bars} />
      <Words x={-10} y={fullPx / 2 + 18} anchor="end" class="dw-soft">
        {`up to ${String(most)} a day`}
      </Words>
    </g>
  );
}

function entriesOf(input: YearInput, areAlertsCounted: boolean): readonly LegendEntry[] {
  const { charge, charges, charged, flat, networkDown, alerts, leaveOpens, lowBatteryMs } = input;
  const outcomes = new Set(
    leaveOpens.map(({ outcome }) => (outcome === 'unpowered' ? 'missed' : outcome)),
  );
  const kinds = new Set(alerts.map(({ kind }) => kind));
  const outcomeEntries = (['late', 'missed', 'undecided'] as const)
    .filter((outcome) => outcomes.has(outcome))
    .map(
      (outcome): LegendEntry => ({
        words: {
          late: 'reported late',
          missed: 'MISSED',
          undecided: 'undecided',
        }[outcome],
        sample: <OutcomeMark outcome={markOf(outcome)} x={11} y={8} r={5} />,
      }),
    );
  const alertEntries = (['true', 'early', 'repeat', 'false'] as const)
    .filter((kind) => kinds.has(kind))
    .map(
      (kind): LegendEntry => ({
        words: { true: 'alert', early: 'early alert', repeat: 'repeat', false: 'FALSE ALARM' }[
          kind
        ],
        sample: <AlertMark delivered kind={kind} x={11} y={8} r={kind === 'false' ? 5.5 : 3.2} />,
      }),
    );
  const entry = (isShown: boolean, words: string, sample: VNode): readonly LegendEntry[] =>
    isShown ? [{ words, sample }] : [];
  return [
    ...entry(charge !== null, 'charge left', <Shape class="dw-curve" d="M0 8H22" />),
    ...entry(
      charges.length > 0,
      charged,
      <Shape class="dw-delivered" d={triangleUp(11, 8, 4.5)} />,
    ),
    ...entry(
      flat.length > 0,
      'off: no charge',
      <Bar x={0} y={0} width={22} height={16} class="dw-void" />,
    ),
    ...entry(
      outcomes.has('reported'),
      'leave-open reported',
      <Shape class="dw-reported" d={square(11, 8, 2.2)} />,
    ),
    ...outcomeEntries,
    ...(areAlertsCounted ? [] : alertEntries),
    ...entry(
      lowBatteryMs.length > 0,
      'low-battery message',
      <Shape class="dw-low-battery" d={triangleUp(11, 8, 5)} />,
    ),
    ...entry(
      networkDown.fromMs.length > 0,
      'network down',
      <Bar x={0} y={4} width={22} height={8} class="dw-network-cap" />,
    ),
  ];
}
