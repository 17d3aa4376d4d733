// A timeline to zoom and pan, from weeks to milliseconds, by mouse, touch and keyboard. It draws the same strip as a
// still picture does, and tells in words what there is under the pointer.

import type { VNode } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { roughDurationText } from '../../base/index.js';
import { stampText } from '../calendar.js';
import { chooseCloseUps } from '../close-ups.js';
import { kindsOf, stripFacts } from '../facts/strip-facts.js';
import type { Window } from '../facts/window.js';
import { legend } from '../page/legend.js';
import { notableOpenings, type Scene } from '../scene.js';
import { lanesFor } from '../strip/lanes.js';
import { laneNamesPx, Strip } from '../strip/strip.js';
import { type Description, describeAt } from './describe.js';
import { withFewShapes } from './few-shapes.js';
import { useGestures } from './gestures.js';
import { keyAction, keyWords } from './keys.js';
import { penWords, usePen } from './pen.js';
import { useWidth } from './use-width.js';
import { around, zoomed } from './view.js';

export interface LiveProps {
  readonly scene: Scene;
  /** Names the picture for people who hear it. */
  readonly name: string;
  /** What a drag on the door draws; without it, a drag moves the view. */
  readonly onDraw?: ((span: Window) => void) | undefined;
  /** What is looked at first; default: all of the timeline. */
  readonly start?: Window | undefined;
  /** What the button that goes back there is named. */
  readonly startName?: string | undefined;
}

/** Findings that one can go to, the worst of all. */
const mostVisited = 200;
/** How near a pointer must come to a check, in pixels. */
const reachPx = 8;

export function LiveTimeline(props: LiveProps): VNode {
  const { scene, name, onDraw, startName = 'All' } = props;
  const { lengthMs } = scene;
  const start = {
    fromMs: props.start?.fromMs ?? 0,
    toMs: props.start?.toMs ?? Math.max(1, lengthMs),
  };
  const frame = useRef<HTMLDivElement>(null);
  const widthPx = useWidth(frame);
  const [view, setView] = useState<Window>(start);
  const [described, setDescribed] = useState<Description | null>(null);
  useEffect(() => setView(start), [lengthMs, start.fromMs, start.toMs]);
  const plotPx = Math.max(1, widthPx - laneNamesPx);
  const perPx = (view.toMs - view.fromMs) / plotPx;
  const describe = (atMs: number): void => setDescribed(describeAt(scene, atMs, perPx * reachPx));
  const pen = usePen(described?.atMs ?? Math.round((view.fromMs + view.toMs) / 2), onDraw);
  const gestures = useGestures({ frame, view, lengthMs, perPx, setView, describe, onDraw });
  const { alerts } = scene.verdict;
  const goTo = (step: 1 | -1): void => {
    const next = findingFrom(scene, view, step);
    if (next === undefined) return;
    setView(around(next, lengthMs));
    setDescribed(describeAt(scene, next.startMs, 0));
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const on = { view, lengthMs, scene, described, setView, setDescribed, goTo };
    const done = keyAction(event, on) || (onDraw !== undefined && pen.onKey(event.key));
    if (done) event.preventDefault();
  };
  return (
    <div class="live">
      <Toolbar
        view={view}
        scene={scene}
        setView={setView}
        goTo={goTo}
        goBack={() => setView(start)}
        startName={startName}
        wheelHint={gestures.wheelHint}
        canGo={alerts.length + notableOpenings(scene).length > 0}
      />
      <div
        ref={frame}
        class={onDraw === undefined ? 'live-frame' : 'live-frame live-draws'}
        tabIndex={0}
        role="application"
        aria-label={`${name}. ${keyWords}${onDraw === undefined ? '' : ` ${penWords}`}`}
        onKeyDown={onKeyDown}
        {...gestures.handlers}
      >
        <LiveStrip
          scene={scene}
          view={view}
          widthPx={widthPx}
          drawn={gestures.drawn ?? pen.drawn}
          at={described?.atMs}
        />
      </div>
      <p class="live-words" aria-live="polite">
        {described === null
          ? 'Point at a check, an alert or an opening, or press the . key.'
          : described.sentences.join(' ')}
      </p>
    </div>
  );
}

/** The next finding ahead of what is seen, or behind it; from the last on to the first. */
function findingFrom(scene: Scene, view: Window, step: 1 | -1) {
  const findings = chooseCloseUps(scene, mostVisited).closeUps;
  const middle = (view.fromMs + view.toMs) / 2;
  const ahead = findings.filter((one) => (one.fromMs + one.toMs) / 2 - middle > 1);
  const behind = findings.filter((one) => (one.fromMs + one.toMs) / 2 - middle < -1);
  return step === 1 ? (ahead[0] ?? findings[0]) : (behind.at(-1) ?? findings.at(-1));
}

function Toolbar(props: {
  readonly view: Window;
  readonly scene: Scene;
  readonly setView: (view: Window) => void;
  readonly goTo: (step: 1 | -1) => void;
  readonly canGo: boolean;
  readonly goBack: () => void;
  readonly startName: string;
  readonly wheelHint: boolean;
}): VNode {
  const { view, scene, setView, goTo, goBack, startName, canGo, wheelHint } = props;
  const { lengthMs, calendar } = scene;
  const aboutMs = (view.fromMs + view.toMs) / 2;
  const by = (factor: number): void => setView(zoomed(view, { aboutMs, factor, lengthMs }));
  return (
    <div class="live-tools">
      <span class="live-span">
        {stampText(calendar, Math.round(view.fromMs))} ·{' '}
        {roughDurationText(Math.round(view.toMs - view.fromMs))} shown
        {wheelHint ? (
          <b class="live-hint"> Click the timeline first, or hold Ctrl, to zoom with the wheel.</b>
        ) : null}
      </span>
      <button type="button" onClick={() => by(0.5)} aria-label="Zoom in">
        +
      </button>
      <button type="button" onClick={() => by(2)} aria-label="Zoom out">
        −
      </button>
      <button type="button" onClick={goBack}>
        {startName}
      </button>
      <button type="button" disabled={!canGo} onClick={() => goTo(-1)}>
        Previous finding
      </button>
      <button type="button" disabled={!canGo} onClick={() => goTo(1)}>
        Next finding
      </button>
    </div>
  );
}

function LiveStrip(props: {
  readonly scene: Scene;
  readonly view: Window;
  readonly widthPx: number;
  readonly drawn: Window | null;
  readonly at: number | undefined;
}): VNode {
  const { scene, view, widthPx, drawn, at } = props;
  const plotPx = Math.max(1, widthPx - laneNamesPx);
  const whole = { fromMs: Math.floor(view.fromMs), toMs: Math.ceil(view.toMs) };
  const strip = useMemo(() => {
    const facts = stripFacts(scene, whole, (0.5 * (whole.toMs - whole.fromMs)) / plotPx);
    const lanes = lanesFor([facts], true);
    const node = withFewShapes(
      <Strip
        scene={scene}
        facts={facts}
        lanes={lanes}
        widthPx={widthPx}
        closeUp={null}
        numbered={[]}
      />,
    );
    return { node, height: lanes.height, legend: legend(kindsOf(facts), widthPx) };
  }, [scene, whole.fromMs, whole.toMs, widthPx]);
  const x = (ms: number): number =>
    laneNamesPx + ((ms - whole.fromMs) / (whole.toMs - whole.fromMs)) * plotPx;
  return (
    <svg
      class="dw"
      width={widthPx}
      height={strip.height + 14 + strip.legend.height}
      aria-hidden="true"
    >
      <g transform={`translate(0 ${String(strip.height + 12)})`}>{strip.legend.node}</g>
      {strip.node}
      {at === undefined || at < view.fromMs || at > view.toMs ? null : (
        <path class="live-cursor" d={`M${x(at)} 0V${strip.height}`} />
      )}
      {drawn === null ? null : (
        <rect
          class="live-drawn"
          x={x(drawn.fromMs)}
          y={0}
          width={Math.max(1, x(drawn.toMs) - x(drawn.fromMs))}
          height={strip.height}
        />
      )}
    </svg>
  );
}
