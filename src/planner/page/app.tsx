// The planner: controls on the left, and what follows from them on the right, at once.
import type { VNode } from 'preact';
import { useEffect, useMemo, useState } from 'preact/hooks';
import { cFiles } from '../../emit/index.js';
import { fields } from '../fields.js';
import { type Plan, type Planned, planning } from '../plan.js';
import { initialState, type PlannerState } from '../state.js';
import { Controls } from './controls.js';
import { useHistory } from './history.js';
import { Readings } from './readings.js';
import { Results } from './results.js';
import { useAnswers } from './use-worker.js';

export function App(): VNode {
  const history = useHistory();
  const { state } = history;
  const planOf = useMemo(planning, []);
  const planned = useMemo(() => planOf(state), [state]);
  const [last, setLast] = useState<Plan | null>(null);
  useEffect(() => {
    if (planned.ok) setLast(planned.plan);
  }, [planned]);
  const answers = useAnswers(state, planned.ok);
  const plan = planned.ok ? planned.plan : last;
  const onDrop = (event: DragEvent): void => {
    event.preventDefault();
    const file = event.dataTransfer?.files[0];
    if (file !== undefined)
      void file.text().then((text) => history.change(dropped(state, file.name, text)));
  };
  return (
    <main onDragOver={(event) => event.preventDefault()} onDrop={onDrop}>
      <header>
        <h1>dozewatch planner</h1>
        <div class="tools">
          <button type="button" disabled={!history.canUndo} onClick={history.undo}>
            Undo
          </button>
          <button type="button" onClick={() => history.change(initialState)}>
            Start over
          </button>
          {plan === null ? null : <Downloads plan={plan} />}
        </div>
      </header>
      {plan === null ? null : <Readings plan={plan} stale={!planned.ok} />}
      <div class="bench">
        <Controls state={state} errors={planned.ok ? [] : planned.errors} change={history.change} />
        <div class={planned.ok ? 'results' : 'results stale'}>
          <FileErrors planned={planned} />
          {plan === null ? null : (
            <Results plan={plan} answers={answers} state={state} change={history.change} />
          )}
        </div>
      </div>
    </main>
  );
}

/** Errors that belong to no field. */
function FileErrors({ planned }: { readonly planned: Planned }): VNode | null {
  if (planned.ok) return null;
  const keys = new Set(fields.map(({ key }) => key));
  const others = planned.errors.filter(({ source }) => !keys.has(source.file));
  if (others.length === 0) return null;
  return (
    <ul class="error" role="alert">
      {others.map(({ source, message, hint }) => (
        <li>
          {source.file}
          {source.line === undefined ? '' : `:${source.line}`}: {message}
          {hint === undefined ? '' : ` (${hint})`}
        </li>
      ))}
    </ul>
  );
}

function Downloads({ plan }: { readonly plan: Plan }): VNode {
  const give = (name: string, text: string): void => {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([text], { type: 'text/plain' }));
    link.download = name;
    link.click();
    window.setTimeout(() => URL.revokeObjectURL(link.href), 1_000);
  };
  const { watchText, scenarioText, question } = plan;
  const giveC = (ending: 'h' | 'c'): void => {
    const files = cFiles(question.program, { prefix: 'watch', origin: 'the planner' });
    const file = files?.find(({ name }) => name === `watch.${ending}`);
    if (file !== undefined) give(file.name, file.text);
  };
  return (
    <>
      <button type="button" onClick={() => give('watch.yaml', watchText())}>
        Watch file
      </button>
      <button
        type="button"
        disabled={scenarioText === null}
        onClick={() => give('scenario.yaml', scenarioText?.() ?? '')}
      >
        Scenario
      </button>
      <button type="button" onClick={() => giveC('h')}>
        C header
      </button>
      <button type="button" onClick={() => giveC('c')}>
        C source
      </button>
    </>
  );
}

/** A dropped file takes its place: a watch file, a scenario, or a door log. */
function dropped(state: PlannerState, name: string, text: string): PlannerState {
  if (!/\.(?:ya?ml|json)$/iu.test(name)) {
    return { ...state, source: { kind: 'log', name, text }, drawn: [] };
  }
  if (
    /^\s*"?(?:watch|device|judge|supply)"?\s*:/mu.test(text) &&
    !/^\s*"?start"?\s*:/mu.test(text)
  ) {
    return { ...state, watchText: text, set: {} };
  }
  return { ...state, source: { kind: 'scenario', name, text }, drawn: [] };
}
