// The comb of checks under an opening, to slide by hand or by key: where it lies decides whether the opening is reported.
import type { VNode } from 'preact';
import { useRef, useState } from 'preact/hooks';
import { durationText, roundedDurationText } from '../../base/index.js';
import type { WatchFile } from '../../scenarios/index.js';
import { type Comb, combAt, combOf, insideMs } from '../comb/comb.js';
import { AllPositions, allPx, CombRow, combScale, outcomePx } from '../comb/comb-panel.js';
import { At } from '../drawing.js';
import { useWidth } from './use-width.js';

const rowPx = 40;
/** Narrower than this, the words of the outcome stand in the sentence below alone. */
const leastForWordsPx = 560;
const steps = 1_000;

/** Nothing where the checks are no rigid comb. */
export function LiveComb({ watchFile }: { readonly watchFile: WatchFile }): VNode | null {
  const comb = combOf(watchFile);
  return comb === null ? null : <SlidingComb comb={comb} />;
}

function SlidingComb({ comb }: { readonly comb: Comb }): VNode {
  const frame = useRef<HTMLDivElement>(null);
  const widthPx = useWidth(frame);
  const [step, setStep] = useState(Math.round(0.6 * steps));
  // Steps of a finger are not described as those of a mouse are in every browser.
  const heldX = useRef(0);
  const share = step / steps;
  const inside = insideMs(comb);
  const firstMs = Math.min(comb.periodMs - 1, Math.floor(share * comb.periodMs));
  const withWords = widthPx >= leastForWordsPx;
  const plotPx = withWords ? widthPx - outcomePx : widthPx;
  const x = combScale(comb, plotPx);
  const perPx = 1_000 / (x(1_000) - x(0));
  const slide = (byPx: number): void =>
    setStep((now) => {
      const moved = now + (byPx * perPx * steps) / comb.periodMs;
      return ((Math.round(moved) % steps) + steps) % steps;
    });
  return (
    <div ref={frame} class="live-comb">
      <p>
        <b>Why.</b> The checks are a comb with a tooth every {durationText(comb.periodMs)}.{' '}
        {inside === null
          ? null
          : `After a tooth inside the opening, the next comes ${durationText(inside)} later, until the alert is decided. `}
        An alert needs {comb.teeth} of its teeth inside the opening. Slide it:
      </p>
      <svg
        class="dw"
        width={widthPx}
        height={rowPx + allPx}
        role="img"
        aria-label={sentenceOf(comb, firstMs)}
        style="touch-action:pan-y;cursor:ew-resize"
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          heldX.current = event.clientX;
        }}
        onPointerMove={(event) => {
          if (event.buttons === 0) return;
          slide(event.clientX - heldX.current);
          heldX.current = event.clientX;
        }}
      >
        <CombRow comb={comb} firstMs={firstMs} x={x} withWords={withWords} />
        <At x={0} y={rowPx}>
          <AllPositions comb={comb} widthPx={widthPx} atShare={share} />
        </At>
      </svg>
      <input
        type="range"
        min={0}
        max={steps}
        value={step}
        style="--steps:10"
        aria-label="Position of the comb of checks"
        aria-valuetext={sentenceOf(comb, firstMs)}
        onInput={(event) => setStep(event.currentTarget.valueAsNumber)}
      />
      <p class="hint">{sentenceOf(comb, firstMs)}</p>
    </div>
  );
}

function sentenceOf(comb: Comb, firstMs: number): string {
  const { inside, decidedMs } = combAt(comb, firstMs, comb.lengthMs);
  const first = `First check ${roundedDurationText(firstMs)} after the door opens`;
  const length = durationText(comb.lengthMs);
  return decidedMs === null
    ? `${first}: ${String(inside)} of ${String(comb.teeth)} checks fall inside an opening of ${length}, so it is missed.`
    : `${first}: the alert is decided ${roundedDurationText(decidedMs)} after it opens.`;
}
