// The controls: a field for every setting, a slider where there is a scale, and beside each what is wrong with it.
import type { VNode } from 'preact';
import type { Diagnostic } from '../../base/index.js';
import { type Field, fields, type Group, groups, nearestStep } from '../fields.js';
import type { PlannerState } from '../state.js';
import { usualUsage } from '../usage.js';
import { followedBy, usualOf } from '../usual.js';
import { fieldOf, newsText } from './bad-news.js';
import { ProfileChoice } from './profile-choice.js';
import { SettingsAsText } from './settings-as-text.js';
import { spokenText } from './spoken.js';

export interface ControlsProps {
  readonly state: PlannerState;
  readonly errors: readonly Diagnostic[];
  readonly change: (state: PlannerState, stroke?: string) => void;
}

const shownAtOnce: ReadonlySet<Group> = new Set(['Watch', 'Requirements', 'Usage', 'Supply']);

function isOf(group: Group, key: string | null): boolean {
  return fields.some((field) => field.group === group && field.key === key);
}

export function Controls({ state, errors, change }: ControlsProps): VNode {
  const put = (key: string, value: string, stroke?: string): void =>
    change({ ...state, set: { ...state.set, [key]: value } }, stroke);
  return (
    <form class="controls" aria-label="Settings" onSubmit={(event) => event.preventDefault()}>
      {groups.map((group) => (
        <details
          open={
            shownAtOnce.has(group) ||
            Object.keys(state.set).some((key) => isOf(group, key)) ||
            errors.some((error) => isOf(group, fieldOf(error)))
          }
        >
          <summary>{group}</summary>
          {group === 'Usage' ? <ProfileChoice state={state} change={change} /> : null}
          {fields
            .filter((field) => field.group === group)
            .map((field) => (
              <Control
                field={field}
                value={state.set[field.key] ?? ''}
                usual={usualIn(field, state)}
                follows={followedName(field, state)}
                errors={errors.filter((error) => fieldOf(error) === field.key)}
                put={(value, stroke) => put(field.key, value, stroke)}
              />
            ))}
        </details>
      ))}
      <SettingsAsText state={state} change={change} />
    </form>
  );
}

/** What holds where nothing is set; '': nothing does. */
function usualIn({ key, control }: Field, state: PlannerState): string {
  const used = usualUsage(state.profile)[key];
  if (used !== undefined) return used;
  if (state.watchText !== null) return '';
  const usual = usualOf(key, state.set);
  return usual === '' && control.kind === 'line' ? `such as ${control.such}` : usual;
}

/** What is typed into one field shows in no other: an empty one names what it follows. */
function followedName({ key }: Field, { watchText }: PlannerState): string | null {
  const followed = watchText === null ? followedBy(key) : null;
  const label = fields.find((field) => field.key === followed)?.label;
  return label === undefined ? null : `as ${label.charAt(0).toLowerCase()}${label.slice(1)}`;
}

function Control(props: {
  readonly field: Field;
  readonly value: string;
  readonly usual: string;
  /** The field that this one follows while it is empty; null: none. */
  readonly follows: string | null;
  readonly errors: readonly Diagnostic[];
  readonly put: (value: string, stroke?: string) => void;
}): VNode {
  const { field, value, usual, follows, errors, put } = props;
  const { key, label, control } = field;
  const [error] = errors;
  const described = error === undefined ? {} : { 'aria-describedby': `error-${key}` };
  return (
    <div class={control.kind === 'line' ? 'control line' : 'control'}>
      <label for={key}>{label}</label>
      {control.kind === 'choice' ? (
        <select
          id={key}
          value={value === '' ? usual : value}
          onChange={(event) => put(event.currentTarget.value)}
          {...described}
        >
          {control.choices.map((one) => (
            <option value={one}>{one === '' ? 'none' : one}</option>
          ))}
        </select>
      ) : (
        <input
          id={key}
          type="text"
          value={value}
          placeholder={follows ?? (usual === '' ? 'not set' : usual)}
          spellcheck={false}
          aria-invalid={error !== undefined}
          onInput={(event) => put(event.currentTarget.value, `typed ${key}`)}
          {...described}
        />
      )}
      {control.kind === 'steps' ? (
        <Slider
          label={label}
          steps={control.steps}
          value={value}
          usual={follows ?? usual}
          put={put}
        />
      ) : null}
      {error === undefined ? null : (
        <p class="error" id={`error-${key}`} role="alert">
          {newsText(error)}
        </p>
      )}
    </div>
  );
}

function Slider(props: {
  readonly label: string;
  readonly steps: readonly string[];
  readonly value: string;
  readonly usual: string;
  readonly put: (value: string) => void;
}): VNode {
  const { label, steps, value, usual, put } = props;
  const shown = value === '' ? usual : value;
  const last = steps.length - 1;
  return (
    <input
      type="range"
      class={value === '' ? 'unset' : ''}
      style={`--steps:${String(last)}`}
      aria-label={`${label}, as a slider`}
      min={0}
      max={last}
      value={nearestStep(steps, shown)}
      aria-valuetext={shown === '' ? 'not set' : spokenText(shown)}
      onInput={(event) => put(steps[Number(event.currentTarget.value)] ?? '')}
    />
  );
}
