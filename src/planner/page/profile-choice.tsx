// The choice of how the door is used.
import type { VNode } from 'preact';
import { builtInProfiles } from '../../scenarios/index.js';
import { type PlannerState, usedAs } from '../state.js';

export function ProfileChoice(props: {
  readonly state: PlannerState;
  readonly change: (state: PlannerState) => void;
}): VNode {
  const { state, change } = props;
  return (
    <div class="control">
      <label for="profile">Used like a</label>
      <select
        id="profile"
        value={state.profile}
        onChange={({ currentTarget }) => change(usedAs(state, currentTarget.value))}
      >
        {builtInProfiles.map((name) => (
          <option value={name}>{name.replace('-', ' ')}</option>
        ))}
      </select>
    </div>
  );
}
