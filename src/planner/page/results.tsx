// What follows from the settings: the week, the detection curve, years of use, the battery.
import type { VNode } from 'preact';
import { useMemo } from 'preact/hooks';
import { chargeText } from '../../battery/index.js';
import { batteryChart, figureOf, LiveCalendar, LiveComb } from '../../chart/index.js';
import { SheetTable } from '../../report/index.js';
import type { Plan } from '../plan.js';
import type { PlannerState } from '../state.js';
import { FrontPanel } from './front-panel.js';
import type { YearlyRate } from './tasks.js';
import type { Answers } from './use-worker.js';
import { Worked } from './worked.js';

export function Results(props: {
  readonly plan: Plan;
  readonly answers: Answers;
  readonly state: PlannerState;
  readonly change: (state: PlannerState) => void;
  readonly widthPx: number;
}): VNode {
  const { plan, answers, state, change, widthPx } = props;
  const { scene } = plan;
  const sheet = useMemo(
    () => (answers.bounds === null ? null : <SheetTable rows={answers.bounds.sheet} />),
    [answers.bounds],
  );
  const onDraw =
    state.source.kind === 'log'
      ? undefined
      : (span: { readonly fromMs: number; readonly toMs: number }): void =>
          change({ ...state, drawn: [...state.drawn, [span.fromMs, span.toMs]] });
  return (
    <>
      <section aria-labelledby="week">
        <h2 id="week" class="own">
          {scene.timeline.name}
        </h2>
        <p class="hint">
          {onDraw === undefined
            ? 'Drag to move, zoom with the wheel.'
            : 'Drag, or press D at both ends, to draw an opening; Shift moves.'}{' '}
          Drop in a watch file, a scenario or a door log.
        </p>
        <LiveCalendar scene={scene} name={scene.timeline.name} onDraw={onDraw} opensWorst />
      </section>
      <section aria-labelledby="curve">
        <h2 id="curve">What you can rely on</h2>
        <LiveComb watchFile={plan.watchFile} />
        <Worked answer={answers.bounds} name="Chance of an alert by the length of an opening" />
        {sheet}
      </section>
      <section aria-labelledby="years">
        <h2 id="years">In years of use</h2>
        <p class="hint">
          200 simulated years of a door used like that of a {state.profile.replace('-', ' ')}, with
          95 % intervals.
        </p>
        <Worked answer={answers.years} name="Years" />
        <Rates rates={answers.years?.rates ?? []} />
      </section>
      <BatteryPanel plan={plan} widthPx={widthPx} />
      <FrontPanel state={state} change={change} widthPx={widthPx} />
    </>
  );
}

function Rates({ rates }: { readonly rates: readonly YearlyRate[] }): VNode | null {
  if (rates.length === 0) return null;
  return (
    <dl class="figures rates">
      {rates.map(({ name, perYear, range }) => (
        <div class="figure">
          <dt>{name} per year</dt>
          <dd>{perYear}</dd>
          <dd class="range">{range}</dd>
        </div>
      ))}
    </dl>
  );
}

function BatteryPanel({
  plan,
  widthPx,
}: {
  readonly plan: Plan;
  readonly widthPx: number;
}): VNode | null {
  const { battery } = plan;
  const html = useMemo(() => {
    if (battery === null) return '';
    const options = { theme: 'page' as const, bare: true, widthPx };
    return figureOf(batteryChart({ answer: battery, file: 'watch.yaml', options }), 'charge');
  }, [battery, widthPx]);
  if (battery === null) return null;
  return (
    <section aria-labelledby="battery">
      <h2 id="battery">Battery</h2>
      <p class="hint">{chargeText(battery.supply.capacityNah)}</p>
      <div
        class="wide"
        tabIndex={0}
        role="group"
        aria-label="Where the charge goes, and life by check interval"
        dangerouslySetInnerHTML={{ __html: html }}
      />
    </section>
  );
}
