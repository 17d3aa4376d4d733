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
