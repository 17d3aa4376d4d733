// The planner: controls on the left, and what follows from them on the right, at once.
import type { VNode } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { type Plan, planning } from '../plan.js';
import { fitsLink, hashOf, type PlannerState } from '../state.js';
import { FileErrors, RefusedFile, Warnings } from './bad-news.js';
import { Controls, type ControlsProps } from './controls.js';
import { type Dropping, mayReadOtherwise, useDropping } from './dropped.js';
import { useHistory } from './history.js';
import { LogReadingChoice } from './log-reading.js';
import { Readings } from './readings.js';
import { Results } from './results.js';
import { startState } from './start.js';
import { TakeOut } from './take-out.js';
import { useAnswers, useResultsWidth } from './use-worker.js';

export function App(): VNode {
  const history = useHistory();
  const { state } = history;
  const { planned, plan, before } = usePlans(history);
  const results = useRef<HTMLDivElement>(null);
  const widthPx = useResultsWidth(results);
  const answers = useAnswers(state, planned.ok, before?.lengths?.detectionCurve, widthPx);
  const dropping = useDropping(state, history.change);
  return (
    <main onDragOver={(event) => event.preventDefault()} onDrop={dropping.onDrop}>
      <button type="button" class="skip" onClick={() => results.current?.focus()}>
        Skip to the results
      </button>
      <header>
        <h1>dozewatch planner</h1>
        <Steps history={history} />
        {planned.ok ? <TakeOut plan={planned.plan} state={state} /> : null}
      </header>
      {plan === null ? null : (
        <InSight>
          <Readings plan={plan} before={before} stale={!planned.ok} />
        </InSight>
      )}
      <div class="bench">
        <SettingsSheet
          state={state}
          errors={planned.ok ? [] : planned.errors}
          change={history.change}
        />
        <div ref={results} class={planned.ok ? 'results' : 'results stale'} tabIndex={-1}>
          {history.badLink === null ? null : (
            <p class="news error" role="alert">
              {history.badLink}
            </p>
          )}
          <News dropping={dropping} />
          <FileErrors planned={planned} />
          {plan === null ? null : <Warnings plan={plan} />}
          {fitsLink(state) ? null : (
            <p class="hint">
              What was dropped in is too long for a link: the address of this page leaves it out.
            </p>
          )}
          {state.source.kind === 'log' ? (
            <LogReadingChoice
              key={state.source.name}
              name={state.source.name}
              reading={state.source}
              read={(reading) => dropping.take(state.source.name, state.source.text, reading)}
            />
          ) : null}
          {plan === null ? null : (
            <Results
              plan={plan}
              answers={answers}
              state={state}
              change={history.change}
              widthPx={widthPx}
            />
          )}
        </div>
      </div>
    </main>
  );
}

/** What follows from the state; the last sound plan, which stays where the state has an error; and the plan before the last change. */
function usePlans({ state, before }: ReturnType<typeof useHistory>) {
  const planOf = useMemo(planning, []);
  const planned = useMemo(() => planOf(state), [state]);
  const plans = useRef(new WeakMap<PlannerState, Plan>());
  const last = useRef<Plan | null>(null);
  if (planned.ok) {
    last.current = planned.plan;
    plans.current.set(state, planned.plan);
  }
  return {
    planned,
    plan: last.current,
    before: before === null ? undefined : plans.current.get(before),
  };
}

/** Why the file dropped in last is not used, and how a door log can be read otherwise. */
function News({ dropping: { refused, take } }: { readonly dropping: Dropping }): VNode | null {
  if (refused === null) return null;
  const { name, text, reading, errors } = refused;
  return (
    <>
      <RefusedFile errors={errors} />
      {mayReadOtherwise(refused) ? (
        <LogReadingChoice
          key={name}
          name={name}
          reading={reading}
          read={(other) => take(name, text, other)}
        />
      ) : null}
    </>
  );
}

/** What stays in sight as the page scrolls; the controls below it have to know how high it is. */
function InSight({ children }: { readonly children: VNode }): VNode {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (place.current === null) return undefined;
    const strip = place.current;
    const { style } = document.documentElement;
    const observer = new ResizeObserver(() => {
      style.setProperty('--in-sight', `${String(strip.clientHeight + 6)}px`);
      // On a phone the verdict, at the top of the strip, goes out of sight first.
      const words = strip.querySelector<HTMLElement>('.two-parts');
      style.setProperty('--verdict', `${String(words?.offsetHeight ?? 0)}px`);
    });
    observer.observe(strip);
    return () => observer.disconnect();
  }, []);
  return (
    <div ref={place} class="in-sight">
      {children}
    </div>
  );
}

function Steps({ history }: { readonly history: ReturnType<typeof useHistory> }): VNode {
  return (
    <div class="tools" role="group" aria-label="Steps">
      <button
        type="button"
        disabled={!history.canUndo}
        onClick={history.undo}
        aria-keyshortcuts="Control+Z"
      >
        Undo
      </button>
      <button
        type="button"
        disabled={!history.canRedo}
        onClick={history.redo}
        aria-keyshortcuts="Control+Shift+Z Control+Y"
      >
        Redo
      </button>
      <button type="button" onClick={() => history.change(startState())}>
        Start over
      </button>
      <CopyLink state={history.state} />
    </div>
  );
}

/** How long the button says that it has copied. */
const copiedForMs = 2_000;

function CopyLink({ state }: { readonly state: PlannerState }): VNode {
  const [done, setDone] = useState<string | null>(null);
  const copy = (): void => {
    const link = `${window.location.href.split('#', 1)[0] ?? ''}${hashOf(state)}`;
    const say = (words: string): void => {
      setDone(words);
      window.setTimeout(() => setDone(null), copiedForMs);
    };
    // A browser may keep its clipboard from pages that it does not trust; the address bar has the same link.
    Promise.resolve()
      .then(() => navigator.clipboard.writeText(link))
      .then(
        () => say('Copied'),
        () => say('Copy the address'),
      );
  };
  return (
    <button type="button" disabled={!fitsLink(state)} onClick={copy}>
      {done ?? 'Copy link'}
    </button>
  );
}

/** The controls: beside the results, or on a phone in a sheet that a button opens. */
function SettingsSheet(props: ControlsProps): VNode {
  const [isOpen, setIsOpen] = useState(false);
  return (
    <>
      <button
        type="button"
        class="sheet-button"
        aria-expanded={isOpen}
        aria-controls="controls"
        onClick={() => setIsOpen(!isOpen)}
      >
        {isOpen ? 'Close settings' : 'Settings'}
      </button>
      <div id="controls" class={isOpen ? 'sheet open' : 'sheet'}>
        <Controls {...props} />
      </div>
    </>
  );
}
