// What is taken out of the planner: the watch file, the scenario, the C code, the report.
import type { VNode } from 'preact';
import { useState } from 'preact/hooks';
import { cFiles } from '../../emit/index.js';
import type { Plan } from '../plan.js';
import type { PageParts } from '../planned-report.js';
import { type PlannerState, watchNameOf } from '../state.js';
import type { Answer } from './tasks.js';
import { ask } from './use-worker.js';

export function TakeOut(props: { readonly plan: Plan; readonly state: PlannerState }): VNode {
  const { plan, state } = props;
  const { watchText, scenarioText, question } = plan;
  const giveC = (ending: 'h' | 'c'): void => {
    const files = cFiles(question.program, {
      prefix: 'watch',
      origin: 'the planner',
      joinWaitMs: question.timing.joinWaitMs,
      bootMs: question.timing.bootTime,
    });
    const file = files?.find(({ name }) => name === `watch.${ending}`);
    if (file !== undefined) give(file.name, file.text);
  };
  return (
    <div class="tools" role="group" aria-label="Take out">
      <span class="soft">Take out</span>
      <button type="button" onClick={() => give(takenOutAs(state), watchText())}>
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
      <ReportButton state={state} />
    </div>
  );
}

/** Under its own name; what was JSON is taken out as YAML. */
function takenOutAs(state: PlannerState): string {
  const name = watchNameOf(state);
  return /\.ya?ml$/iu.test(name) ? name : 'watch.yaml';
}

/** A report needs all bounds, which may take a while. */
function ReportButton({ state }: { readonly state: PlannerState }): VNode {
  const [isBusy, setBusy] = useState(false);
  const make = (): void => {
    setBusy(true);
    const worker = ask({ id: 0, kind: 'report', state, widthPx: 0, page: pageParts() }, done);
    worker.addEventListener('error', () => setBusy(false));
    function done({ html }: Answer<'report'>): void {
      worker.terminate();
      setBusy(false);
      if (html !== null) give('report.html', html, 'text/html');
    }
  };
  return (
    <button type="button" disabled={isBusy} onClick={make}>
      {isBusy ? 'Report …' : 'Report'}
    </button>
  );
}

/** A report carries the same script as this page. */
function pageParts(): PageParts {
  const policy = document.querySelector('meta[http-equiv=Content-Security-Policy]');
  const [, allowed = ''] = /script-src ([^;]+)/u.exec(policy?.getAttribute('content') ?? '') ?? [];
  const parts: unknown = JSON.parse(textOf('dw-data'));
  return {
    ...(isHead(parts) ? parts : { version: 'unknown', caution: '' }),
    script: { packed: textOf('dw-packed'), allowed },
  };
}

function isHead(value: unknown): value is Pick<PageParts, 'version' | 'caution'> {
  return typeof value === 'object' && value !== null && 'version' in value && 'caution' in value;
}

function textOf(id: string): string {
  return document.getElementById(id)?.textContent ?? '';
}

function give(name: string, text: string, type = 'text/plain'): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  link.click();
  window.setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
