// The planner: controls on the left, and what follows from them on the right, at once.
import type { VNode } from 'preact';
import { useMemo, useRef, useState } from 'preact/hooks';
import type { Diagnostic } from '../../base/index.js';
import { type Plan, planning } from '../plan.js';
import { fitsLink } from '../state.js';
import { withFile } from '../with-file.js';
import { FileErrors, RefusedFile, Warnings } from './bad-news.js';
import { Controls, type ControlsProps } from './controls.js';
import { useHistory } from './history.js';
import { Readings } from './readings.js';
import { Results } from './results.js';
import { startState } from './start.js';
import { TakeOut } from './take-out.js';
import { useAnswers, useResultsWidth } from './use-worker.js';

export function App(): VNode {
  const history = useHistory();
  const { state } = history;
  const planOf = useMemo(planning, []);
  const planned = useMemo(() => planOf(state), [state]);
  const last = useRef<Plan | null>(null);
  if (planned.ok) last.current = planned.plan;
  const plan = last.current;
  const answers = useAnswers(state, planned.ok);
  const [refused, setRefused] = useState<readonly Diagnostic[]>([]);
  const results = useRef<HTMLDivElement>(null);
  useResultsWidth(results);
  const onDrop = (event: DragEvent): void => {
    event.preventDefault();
    const file = event.dataTransfer?.files[0];
    if (file === undefined) return;
    void file.text().then((text) => {
      const dropped = withFile(state, file.name, text);
      setRefused(dropped.ok ? [] : dropped.errors);
      if (dropped.ok) history.change(dropped.value);
    });
  };
  return (
    <main onDragOver={(event) => event.preventDefault()} onDrop={onDrop}>
      <header>
        <h1>dozewatch planner</h1>
        <Steps history={history} />
        {planned.ok ? <TakeOut plan={planned.plan} state={state} /> : null}
      </header>
      {plan === null ? null : <Readings plan={plan} stale={!planned.ok} />}
      <div class="bench">
        <SettingsSheet
          state={state}
          errors={planned.ok ? [] : planned.errors}
          change={history.change}
        />
        <div ref={results} class={planned.ok ? 'results' : 'results stale'}>
          {history.badLink === null ? null : (
            <p class="news error" role="alert">
              {history.badLink}
            </p>
          )}
          <RefusedFile errors={refused} />
          <FileErrors planned={planned} />
          {plan === null ? null : <Warnings plan={plan} />}
          {fitsLink(state) ? null : (
            <p class="hint">
              What was dropped in is too long for a link: the address of this page leaves it out.
            </p>
          )}
          {plan === null ? null : (
            <Results plan={plan} answers={answers} state={state} change={history.change} />
          )}
        </div>
      </div>
    </main>
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
    </div>
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
