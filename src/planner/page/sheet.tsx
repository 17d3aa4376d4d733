// The data sheet of the watch, worded as on the command line, and the choice of how its door is used.
import type { VNode } from 'preact';
import { builtInProfiles } from '../../scenarios/index.js';
import type { SheetRow } from '../../wording/index.js';
import { type PlannerState, usedAs } from '../state.js';

export function DataSheet({ rows }: { readonly rows: readonly SheetRow[] }): VNode {
  return (
    <div class="wide" tabIndex={0} role="group" aria-label="Data sheet">
      <table class="sheet">
        <thead>
          <tr>
            <th scope="col">symbol</th>
            <th scope="col">at rest</th>
            <th scope="col">any state</th>
            <th scope="col">unit</th>
            <th scope="col">meaning</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ symbol, atRest, anyState, unit, meaning }) => (
            <tr>
              <th scope="row">{symbol}</th>
              <td class="number">{atRest}</td>
              <td class="number">{anyState}</td>
              <td>{unit}</td>
              <td class="words">{meaning}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

export function ProfileChoice(props: {
  readonly state: PlannerState;
  readonly change: (state: PlannerState) => void;
}): VNode {
  const { state, change } = props;
  return (
    <select
      id="profile"
      aria-label="How the door is used"
      value={state.profile}
      onChange={({ currentTarget }) => change(usedAs(state, currentTarget.value))}
    >
      {builtInProfiles.map((name) => (
        <option value={name}>{name.replace('-', ' ')}</option>
      ))}
    </select>
  );
}
