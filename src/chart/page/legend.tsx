// The legend: every kind of mark in the picture, and no other.
import type { VNode } from 'preact';
import type { AlertKind } from '../../verdict/index.js';
import { At, Bar, type Block, Shape, Words } from '../drawing.js';
import { cell, circle, diamond, halfDisc, square, thinCross, triangleUp } from '../glyphs.js';
import { type Kind, kindWords } from '../kinds.js';
import { AlertMark, OutcomeMark } from '../marks.js';
import { textWidth } from '../text.js';

const samplePx = 22;
const linePx = 20;
const gapPx = 20;

export interface LegendEntry {
  readonly words: string;
  /** Drawn 22 px wide and 16 px high. */
  readonly sample: VNode;
}

export function legend(kinds: ReadonlySet<Kind>, widthPx: number): Block {
  return legendOf(legendEntries(kinds), widthPx);
}

export function legendEntries(kinds: ReadonlySet<Kind>): readonly LegendEntry[] {
  const shown = kindWords.filter(([kind]) => kinds.has(kind));
  return shown.map(([kind, words]) => ({ words, sample: samples[kind]() }));
}

/** Samples with their words, in as many lines as they take. */
export function legendOf(entries: readonly LegendEntry[], widthPx: number): Block {
  let x = 0;
  let y = 0;
  const placed = entries.map(({ words, sample }) => {
    const width = samplePx + 6 + textWidth(words, { sizePx: 11 });
    if (x > 0 && x + width > widthPx) {
      x = 0;
      y += linePx;
    }
    const at = { x, y };
    x += width + gapPx;
    return (
      <At x={at.x} y={at.y}>
        {sample}
        <Words x={samplePx + 6} y={12} class="dw-soft">
          {words}
        </Words>
      </At>
    );
  });
  return { height: y + linePx, node: <g>{placed}</g> };
}

const middle = { x: samplePx / 2, y: 8 };

function whole(kind: string): VNode {
  return <Bar x={0} y={2} width={samplePx} height={11} class={`dw-${kind}`} />;
}

function badOpening(outcome: 'late' | 'undecided' | 'unknown' | 'missed'): VNode {
  return (
    <g>
      {whole(outcome)}
      <OutcomeMark {...middle} r={outcome === 'missed' ? 6 : 4} outcome={outcome} />
    </g>
  );
}

function alert(kind: AlertKind, delivered = true): VNode {
  return <AlertMark {...middle} r={kind === 'false' ? 7 : 5} kind={kind} delivered={delivered} />;
}

function outage(kind: 'network' | 'power'): VNode {
  return (
    <g>
      <Bar x={0} y={5} width={samplePx} height={10} class={`dw-${kind}`} />
      <Bar x={0} y={2} width={samplePx} height={3} class={`dw-${kind}-cap`} />
    </g>
  );
}

function thin(kind: string): VNode {
  return <Bar x={0} y={4} width={samplePx} height={8} class={`dw-${kind}`} />;
}

function shape(kind: string, d: string): VNode {
  return <Shape class={`dw-${kind}`} d={d} />;
}

const { x, y } = middle;
const end = samplePx - 1;

const samples: Readonly<Record<Kind, () => VNode>> = {
  dense: () => (
    <g>
      {[1, 2, 3, 4].map((level) => (
        <Bar
          x={(level - 1) * 5.5}
          y={4}
          width={5.5}
          height={9}
          class={`dw-brief dw-dense-${level}`}
        />
      ))}
    </g>
  ),
  brief: () => <Bar x={6} y={5} width={10} height={8} class="dw-brief" />,
  reported: () => whole('reported'),
  late: () => badOpening('late'),
  undecided: () => badOpening('undecided'),
  unknown: () => badOpening('unknown'),
  missed: () => badOpening('missed'),
  readsOpen: () => <Bar x={0} y={5} width={samplePx} height={6} class="dw-reads-open" />,
  true: () => alert('true'),
  early: () => alert('early'),
  repeat: () => alert('repeat'),
  false: () => alert('false'),
  unsent: () => alert('true', false),
  checkOpen: () => shape('check-open', `M${x} 14v-8${circle(x, 5, 2.8)}`),
  checkShut: () => shape('check-shut', `M${x} 4v8M${x - 2.5} 12h5`),
  checkWrong: () => shape('check-wrong', circle(x, y, 5.5)),
  contactWake: () => shape('contact-wake', triangleUp(x, y, 3.5)),
  memory: () => (
    <g>
      <Bar x={0} y={2} width={samplePx} height={12} class="dw-memory" />
      {shape('pip-open', square(7, y, 3))}
      {shape('pip-shut', square(15, y, 3))}
    </g>
  ),
  pending: () => thin('pending'),
  delivered: () => shape('delivered', circle(x, y, 4)),
  failed: () => shape('failed', thinCross(x, y, 3.5)),
  cutOff: () => shape('cut-off', halfDisc(x + 2, y, 4.5)),
  heartbeat: () => shape('heartbeat', diamond(x, y, 3)),
  lowBattery: () => shape('low-battery', cell(x, y, 5)),
  cooldown: () => thin('cooldown'),
  held: () => thin('held'),
  network: () => outage('network'),
  power: () => outage('power'),
  reset: () => shape('reset', `M${x} 1V15`),
  void: () => whole('void'),
  worst: () => (
    <g>
      {shape('worst-line', `M1 2V14M${end} 2V14M1 8H${end}`)}
      {shape('arrow', `M1 8l5 -2.5v5ZM${end} 8l-5 -2.5v5Z`)}
    </g>
  ),
};
