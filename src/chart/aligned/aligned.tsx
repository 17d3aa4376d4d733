// Findings in rows 14 px high, all aligned at the moment of opening over one axis in minutes: what they have in common
// shows at once.
import type { VNode } from 'preact';
import { durationText, numberText, roundedDurationText } from '../../base/index.js';
import { stampText } from '../calendar.js';
import { placeUnder } from '../detection/axes.js';
import { At, Bar, type Block, Shape, type TimeScale, Words } from '../drawing.js';
import { checksIn } from '../facts/wakes.js';
import { clipped, spansIn, type Window } from '../facts/window.js';
import { circle } from '../glyphs.js';
import { type Kind, lookOf } from '../kinds.js';
import { AlertMark } from '../marks.js';
import { counted, px } from '../numbers.js';
import { type LegendEntry, legendEntries, legendOf } from '../page/legend.js';
import type { Scene } from '../scene.js';
import { cutText, textWidth } from '../text.js';
import { roundStepsMs } from '../ticks.js';
import {
  type AlignedFinding,
  type FindingKind,
  type ShownFindings,
  type ShownGroup,
  sharedWindow,
} from './findings.js';

const rowPx = 14;
const barPx = 8;
const headPx = 24;
const axisPx = 22;
const topPx = 18;
const gapPx = 8;
/** Narrower than this, a row has no room for words behind it. */
const leastForWordsPx = 560;

const kindNames: Readonly<Record<FindingKind, readonly [one: string, many: string]>> = {
  missed: ['missed', 'missed'],
  late: ['late', 'late'],
  false: ['false alarm', 'false alarms'],
};

interface Layout {
  readonly scene: Scene;
  readonly window: Window;
  readonly labelPx: number;
  readonly plotPx: number;
  readonly wordsPx: number;
  readonly x: TimeScale;
}

export interface Aligned extends Block {
  readonly words: string;
  readonly legend: Block;
}

/** @returns null where nothing went wrong. */
export function alignedBlock(scene: Scene, shown: ShownFindings, widthPx: number): Aligned | null {
  const { groups, others } = shown;
  if (groups.length === 0) return null;
  const layout = layoutOf(scene, groups, widthPx);
  let y = topPx;
  const placed = groups.map((group) => {
    const top = y;
    const more = group.findings.length - group.rows.length;
    y += headPx + group.rows.length * rowPx + (more > 0 ? rowPx : 0) + gapPx;
    return (
      <At y={top}>
        <Group layout={layout} group={group} more={more} widthPx={widthPx} />
      </At>
    );
  });
  const rows = groups.flatMap((group) => group.rows).length;
  const othersPx = others > 0 ? rowPx + 4 : 0;
  return {
    height: y + axisPx + othersPx,
    words: groups.map(groupWords).join('; '),
    legend: legendOf(entriesOf(layout, groups), widthPx),
    node: (
      <g>
        <Guides layout={layout} foot={y} rows={rows} />
        {placed}
        {others === 0 ? null : (
          <Words x={0} y={y + axisPx + 10} class="dw-soft">
            … and {counted(others, 'more finding')} of other causes
          </Words>
        )}
      </g>
    ),
  };
}

/** What the rows show, and nothing else. */
function entriesOf(
  { scene, window }: Layout,
  groups: readonly ShownGroup[],
): readonly LegendEntry[] {
  const kinds = new Set<Kind>();
  const { world } = scene.timeline;
  for (const { zeroMs } of groups.flatMap(({ rows }) => rows)) {
    const seen = { fromMs: zeroMs + window.fromMs, toMs: zeroMs + window.toMs };
    for (const { index } of spansIn(world.openings, seen)) {
      kinds.add(lookOf(scene.verdict.openings.at(index).outcome));
    }
    for (const { kind, deliveredMs } of alertsSeen(scene, seen)) {
      kinds.add(kind);
      if (deliveredMs === null) kinds.add('unsent');
    }
    if (spansIn(world.networkDown, seen).length > 0) kinds.add('network');
  }
  const check = (words: string, sample: VNode): LegendEntry => ({ words, sample });
  return [
    ...legendEntries(kinds),
    check(
      'check that reads open',
      <g>
        <Bar x={0} y={4} width={22} height={barPx} class="dw-brief" />
        <Shape class="dw-disc" d={circle(11, 8, 3.6)} />
        <Shape class="dw-check-run-open" d={circle(11, 8, 2.6)} />
      </g>,
    ),
    check('check that reads shut', <Shape class="dw-check-shut" d="M11 5v6" />),
    check('delivered', <Shape class="dw-ink-line" d="M11 2v12" />),
  ];
}

function alertsSeen({ verdict }: Scene, { fromMs, toMs }: Window) {
  return verdict.alerts.filter(({ decidedMs }) => decidedMs >= fromMs && decidedMs < toMs);
}

function layoutOf(scene: Scene, groups: readonly ShownGroup[], widthPx: number): Layout {
  const window = sharedWindow(
    scene,
    groups.flatMap(({ rows }) => rows),
  );
  const isWide = widthPx >= leastForWordsPx;
  const labelPx = isWide ? 122 : 84;
  const wordsPx = isWide ? 150 : 0;
  const plotPx = widthPx - labelPx - wordsPx;
  const x = (ms: number): number =>
    labelPx + ((ms - window.fromMs) / (window.toMs - window.fromMs)) * plotPx;
  return { scene, window, labelPx, plotPx, wordsPx, x };
}

/** `79 false alarms: two checks in two brief openings` */
export function groupWords({ kind, cause, findings }: ShownGroup): string {
  const [one, many] = kindNames[kind];
  const count = counted(findings.length, one, many);
  return cause === null ? `${count} without a reason here` : `${count}: ${cause}`;
}

function Group(props: {
  readonly layout: Layout;
  readonly group: ShownGroup;
  readonly more: number;
  readonly widthPx: number;
}): VNode {
  const { layout, group, more, widthPx } = props;
  const font = { sizePx: 12, bold: true };
  return (
    <g>
      <Words x={0} y={16} size={12} class={`dw-bold dw-halo dw-t-${group.kind}`}>
        {cutText(groupWords(group), widthPx, font)}
      </Words>
      {group.rows.map((finding, index) => (
        <At y={headPx + index * rowPx}>
          <Row layout={layout} finding={finding} />
        </At>
      ))}
      {more === 0 ? null : (
        <Words
          x={layout.labelPx}
          y={headPx + group.rows.length * rowPx + 11}
          class="dw-soft dw-halo"
        >
          … and {numberText(more)} more like {group.rows.length === 1 ? 'this' : 'these'}
        </Words>
      )}
    </g>
  );
}

function Row({ layout, finding }: { readonly layout: Layout; readonly finding: AlignedFinding }) {
  const { scene, window, labelPx, plotPx, wordsPx, x } = layout;
  const { zeroMs } = finding;
  const seen = { fromMs: zeroMs + window.fromMs, toMs: zeroMs + window.toMs };
  const inLength = clipped(seen, { fromMs: 0, toMs: scene.lengthMs }) ?? { fromMs: 0, toMs: 0 };
  const at = (ms: number): number => x(ms - zeroMs);
  const stamp = stampText(scene.calendar, zeroMs).replace(/:\d\d(?= \(|$)/u, '');
  const label = wordsPx === 0 ? stamp.replace(/^\w+ /u, '') : stamp;
  const openings = spansIn(scene.timeline.world.openings, inLength);
  const down = spansIn(scene.timeline.world.networkDown, inLength);
  return (
    <g>
      <Words x={labelPx - 8} y={11} anchor="end" class="dw-soft">
        {cutText(label, labelPx - 8, { sizePx: 11 })}
      </Words>
      <Bar
        x={at(inLength.fromMs)}
        y={1}
        width={Math.max(0, at(inLength.toMs) - at(inLength.fromMs))}
        height={rowPx - 2}
        class="dw-panel"
        title={finding.sentence ?? undefined}
      />
      {down.map(({ fromMs, toMs }) => (
        <Bar
          x={at(fromMs)}
          y={1}
          width={at(toMs) - at(fromMs)}
          height={rowPx - 2}
          class="dw-network"
        />
      ))}
      {openings.map(({ fromMs, toMs, index }) => (
        <Bar
          x={at(fromMs)}
          y={(rowPx - barPx) / 2}
          width={Math.max(1, at(toMs) - at(fromMs))}
          height={barPx}
          class={`dw-${lookOf(scene.verdict.openings.at(index).outcome)}`}
        />
      ))}
      <Checks scene={scene} window={inLength} x={at} />
      <Alerts scene={scene} window={inLength} x={at} />
      {finding.endMs <= seen.toMs ? null : (
        <Shape class="dw-arrow" d={`M${px(labelPx + plotPx - 6)} 3.5l5 3.5l-5 3.5Z`} />
      )}
      {wordsPx === 0 ? null : (
        <Words x={labelPx + plotPx + 10} y={11} class="dw-soft">
          {rowWords(scene, finding)}
        </Words>
      )}
    </g>
  );
}

function rowWords({ verdict }: Scene, { kind, opening, alert }: AlignedFinding): string {
  if (opening === null) {
    const { decidedMs, opening: of } = verdict.alerts[alert ?? 0] ?? {
      decidedMs: 0,
      opening: null,
    };
    if (of === null) return 'the door was shut';
    const { fromMs, durationMs } = verdict.openings.at(of);
    return decidedMs < fromMs ? '' : `brief: ${roundedDurationText(durationMs, 'at least')}`;
  }
  const { durationMs, delayMs } = verdict.openings.at(opening);
  return kind === 'late' && delayMs !== null
    ? `after ${roundedDurationText(delayMs, 'at most')}`
    : `open ${roundedDurationText(durationMs, 'at least')}`;
}

interface InRow {
  readonly scene: Scene;
  readonly window: Window;
  readonly x: TimeScale;
}

/** Checks that read open are filled, others hollow; more than can be distinguished become a line. */
const mostChecks = 80;

function Checks({ scene, window, x }: InRow): VNode {
  const open: number[] = [];
  const shut: number[] = [];
  for (const { firstMs, count, periodMs, reads } of checksIn(scene.trace, window)) {
    const into = reads === 'open' ? open : shut;
    for (let nth = 0; nth < count && into.length < mostChecks; nth += 1) {
      into.push(x(firstMs + nth * periodMs));
    }
  }
  const middle = rowPx / 2;
  return (
    <g>
      <Shape class="dw-check-shut" d={shut.map((at) => `M${px(at)} ${middle - 3}v6`).join('')} />
      <Shape class="dw-disc" d={open.map((at) => circle(at, middle, 3.6)).join('')} />
      <Shape class="dw-check-run-open" d={open.map((at) => circle(at, middle, 2.6)).join('')} />
    </g>
  );
}

function Alerts({ scene, window, x }: InRow): VNode {
  const seen = alertsSeen(scene, window);
  return (
    <g>
      {seen.map(({ kind, decidedMs, deliveredMs }) => (
        <AlertMark
          x={x(decidedMs)}
          y={rowPx / 2}
          r={kind === 'false' ? 5.4 : 4.2}
          kind={kind}
          delivered={deliveredMs !== null}
        />
      ))}
      {seen.map(({ deliveredMs }) =>
        deliveredMs === null || deliveredMs >= window.toMs ? null : (
          <Shape class="dw-ink-line" d={`M${px(x(deliveredMs))} 2v${rowPx - 4}`} />
        ),
      )}
    </g>
  );
}

/** The moment of opening, the limit that counts as left open, and minutes below. */
function Guides({
  layout,
  foot,
}: {
  readonly layout: Layout;
  readonly foot: number;
  readonly rows: number;
}): VNode {
  const { scene, window, labelPx, plotPx, x } = layout;
  const leaveOpenMs = scene.watchFile.judge.leaveOpenAfterMs;
  const limit = `left open from ${durationText(leaveOpenMs)}`;
  const ticks = ticksOf(window, plotPx);
  const limitX = x(leaveOpenMs);
  const right =
    limitX + 6 + textWidth(limit, { sizePx: 11, bold: true }) <= labelPx + plotPx + layout.wordsPx;
  const openX = x(0);
  const opensWords = 'the door opens';
  const roomLeft = right
    ? limitX - openX
    : limitX - openX - textWidth(limit, { sizePx: 11, bold: true });
  return (
    <g>
      <Shape class="dw-rule" d={ticks.map((ms) => `M${px(x(ms))} ${topPx}V${px(foot)}`).join('')} />
      <Shape class="dw-worst-line" d={`M${px(openX)} 4V${px(foot)}`} />
      {textWidth(opensWords, { sizePx: 11, bold: true }) + 10 > roomLeft ? null : (
        <Words x={openX + 5} y={12} class="dw-bold">
          {opensWords}
        </Words>
      )}
      <Shape class="dw-asked-line" d={`M${px(limitX)} 4V${px(foot)}`} />
      <Words
        x={right ? limitX + 5 : limitX - 5}
        y={12}
        {...(right ? {} : { anchor: 'end' as const })}
        class="dw-bold"
      >
        {limit}
      </Words>
      <Shape class="dw-axis" d={`M${labelPx} ${px(foot)}h${px(plotPx)}`} />
      {ticks.map((ms) => (
        <Words
          {...placeUnder(x(ms), tickText(ms, ticks), labelPx + plotPx + layout.wordsPx)}
          y={foot + 15}
          class="dw-soft"
        >
          {tickText(ms, ticks)}
        </Words>
      ))}
    </g>
  );
}

const tickRoomPx = 56;

function ticksOf({ fromMs, toMs }: Window, plotPx: number): readonly number[] {
  const wanted = ((toMs - fromMs) * tickRoomPx) / plotPx;
  const step =
    roundStepsMs.find((one) => one >= wanted) ?? Math.ceil(wanted / 86_400_000) * 86_400_000;
  const ticks: number[] = [];
  for (let ms = Math.ceil(fromMs / step) * step; ms <= toMs; ms += step) ticks.push(ms);
  return ticks;
}

/** In minutes, or in the unit that the step has; the last one names it. */
function tickText(ms: number, ticks: readonly number[]): string {
  const size = ms < 0 ? `−${durationText(-ms)}` : ms === 0 ? '0' : durationText(ms);
  return ticks.length === 0 ? '' : size;
}
