// Marks in an overview: alerts where they were decided, missed and late leave-opens where they began.
import type { VNode } from 'preact';
import { Shape, Words } from '../drawing.js';
import { cell, diamond } from '../glyphs.js';
import { AlertMark, alertGlyph, OutcomeMark, outcomeGlyph } from '../marks.js';
import { Tag } from '../tag.js';
import type { Label } from './labels.js';
import type { Mark } from './mark-list.js';

/** Of each kind so many marks get an element and a title each; more become one shape. */
const mostTitled = 400;

/** The worst are drawn last, over everything else. */
export function Marks({ marks }: { readonly marks: readonly Mark[] }): VNode {
  const groups = new Map<number, Mark[]>();
  for (const mark of [...marks].reverse()) {
    const group = groups.get(mark.order);
    if (group === undefined) groups.set(mark.order, [mark]);
    else group.push(mark);
  }
  return (
    <g>
      {[...groups.values()].map((group) =>
        group.length > mostTitled ? <Crowd marks={group} /> : group.map(single),
      )}
    </g>
  );
}

function single({ what, x, y, r, title }: Mark): VNode {
  if (what.of === 'lowBattery') {
    return <Shape class="dw-low-battery" d={cell(x, y, r)} title={title} />;
  }
  return what.of === 'alert' ? (
    <AlertMark x={x} y={y} r={r} title={title} kind={what.kind} delivered={what.delivered} />
  ) : (
    <OutcomeMark x={x} y={y} r={r} title={title} outcome={what.outcome} />
  );
}

function Crowd({ marks }: { readonly marks: readonly Mark[] }): VNode {
  const shapes = new Map<string, Set<string>>();
  for (const { what, x, y, r } of marks) {
    if (what.of === 'lowBattery') {
      shapes.set(lowName, (shapes.get(lowName) ?? new Set()).add(cell(x, y, r)));
      continue;
    }
    const kind = what.of === 'alert' ? what.kind : what.outcome;
    const hollow = what.of === 'alert' && !what.delivered ? ' dw-unsent' : '';
    const name = `dw-mark dw-crowd dw-m-${kind}${hollow}`;
    const shape = shapes.get(name) ?? new Set();
    shapes.set(name, shape.add(crowdGlyph(what)(x, y, r)));
  }
  return (
    <g>
      {[...shapes].map(([name, d]) => (
        <Shape class={name} d={[...d].join('')} />
      ))}
    </g>
  );
}

const lowName = 'dw-low-battery dw-crowd';

/** Shapes without holes: these would show where marks of one shape overlap. */
function crowdGlyph(what: Exclude<Mark['what'], { of: 'lowBattery' }>) {
  if (what.of === 'opening') return outcomeGlyph(what.outcome);
  return what.kind === 'false' ? diamond : alertGlyph(what.kind);
}

export function Labels({ labels }: { readonly labels: readonly Label[] }): VNode {
  return (
    <g>
      {labels.map(({ x, y, sizePx, tag, wordsX, words, class: kind }) => (
        <g>
          {tag === null ? null : <Tag x={x} y={y} number={tag} />}
          {words === '' ? null : (
            <Words x={wordsX} y={y + sizePx * 0.36} size={sizePx} class={`dw-halo ${kind}`}>
              {words}
            </Words>
          )}
        </g>
      ))}
    </g>
  );
}
