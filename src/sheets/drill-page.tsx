// A drill as a page: a clock to use at the door, and below it the checklist, which prints without the clock.
import type { VNode } from 'preact';
import { markupOf } from '../chart/index.js';
import { htmlDocument, type PageScript } from '../report/index.js';
import { type DrillData, encodedDrill, type SheetStep } from './drill-data.js';
import { drillStyle } from './drill-style.js';
import { sheetStyle } from './style.js';

export interface DrillSheet {
  readonly data: DrillData;
  readonly title: string;
  readonly summary: readonly (readonly [name: string, words: string])[];
  /** For the safety of goods and people, before anything else. */
  readonly cautions: readonly string[];
  readonly howTo: readonly string[];
  readonly footer: string;
  readonly script: PageScript;
}

export function drillPage(sheet: DrillSheet): string {
  const { data, title, summary, cautions, howTo, footer, script } = sheet;
  const body = markupOf(
    <main>
      <h1>{title}</h1>
      <div class="warn">
        {cautions.map((words) => (
          <p>{words}</p>
        ))}
      </div>
      <div id="door" class="no-print" />
      <h2>How to do it</h2>
      {howTo.map((words) => (
        <p>{words}</p>
      ))}
      <h2>What it covers</h2>
      <dl class="facts">
        {summary.map(([name, words]) => (
          <>
            <dt>{name}</dt>
            <dd>{words}</dd>
          </>
        ))}
      </dl>
      <h2>Steps</h2>
      {data.steps.map((step, index) => (
        <StepCard step={step} index={index} />
      ))}
      <footer>{footer}</footer>
    </main>,
  );
  return htmlDocument({
    title,
    style: sheetStyle(drillStyle),
    body,
    data: encodedDrill(data),
    script,
  });
}

/** On paper a step stays on one page: what to do on the left, what must come on the right. */
function StepCard({ step, index }: { readonly step: SheetStep; readonly index: number }): VNode {
  const number = String(index + 1);
  return (
    <section class="step" id={`step-${number}`}>
      <h3>
        Step {number} <span class="soft">{step.lasts}</span>
      </h3>
      {step.exactness === '' ? null : <p class="exact">{step.exactness}</p>}
      <div class="two-up">
        <table>
          <thead>
            <tr>
              <th>at</th>
              <th>do</th>
            </tr>
          </thead>
          <tbody>
            {step.actions.map(({ at, deed }) => (
              <tr>
                <td class="word">{at}</td>
                <td>{deed}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <div class="must">
          <p>
            <label>
              <input type="checkbox" /> {step.expectation}
            </label>
          </p>
          <p>
            Messages came at: <span class="blank" />
          </p>
          <p class="purpose">{step.purpose}</p>
        </div>
      </div>
    </section>
  );
}
