// Settings worth choosing between: searched on request, and put to use by one press.
import type { VNode } from 'preact';
import { trialColumns } from '../../wording/index.js';
import type { PlannerState } from '../state.js';
import type { Choice } from './tasks.js';
import { useFront } from './use-worker.js';
import { Worked } from './worked.js';

interface Props {
  readonly state: PlannerState;
  readonly change: (state: PlannerState) => void;
  readonly widthPx: number;
}

export function FrontPanel({ state, change, widthPx }: Props): VNode {
  const { answer, search } = useFront(state, widthPx);
  const isBusy = answer !== null && answer.share < 1;
  return (
    <section aria-labelledby="front">
      <h2 id="front">Settings worth choosing between</h2>
      <p class="hint">
        Round intervals and thresholds around yours: bounds are proved; lives and false alarms are
        from 5 simulated years, with 95 % intervals.{' '}
        <button type="button" disabled={isBusy} onClick={search}>
          Search settings
        </button>
      </p>
      {answer === null ? null : <Worked answer={answer} name="Delay against life" />}
      {answer === null || answer.choices.length === 0 ? null : (
        <Choices
          choices={answer.choices}
          state={state}
          take={(set) => change({ ...state, set: { ...state.set, ...set } })}
        />
      )}
    </section>
  );
}

function Choices(props: {
  readonly choices: readonly Choice[];
  readonly state: PlannerState;
  readonly take: (set: Choice['set']) => void;
}): VNode {
  const { choices, state, take } = props;
  const isSet = ({ set }: Choice): boolean =>
    Object.entries(set).every(([key, value]) => state.set[key] === value);
  return (
    <div class="wide" tabIndex={0} role="group" aria-label="Settings that no others beat">
      <table class="choices">
        <thead>
          <tr>
            <th scope="col">choice</th>
            {trialColumns.map((column) => (
              <th scope="col" class={classOf(column)}>
                {column.title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {choices.map((choice) => (
            <tr class={choice.isRecommended ? 'recommended' : ''}>
              <td>
                <button type="button" disabled={isSet(choice)} onClick={() => take(choice.set)}>
                  {isSet(choice) ? 'In use' : 'Use this one'}
                </button>
                {choice.isRecommended ? <span class="tag">recommended</span> : null}
              </td>
              {choice.cells.map((cell, index) => (
                <td class={classOf(trialColumns[index])}>{cell}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function classOf(column: (typeof trialColumns)[number] | undefined): string {
  return column !== undefined && 'align' in column ? 'num' : '';
}
