// The controls: a field for every setting, a slider where there is a scale, and beside each what is wrong with it.
import type { VNode } from 'preact';
import type { Diagnostic } from '../../base/index.js';
import { type Field, fields } from '../fields.js';
import type { PlannerState } from '../state.js';
import { usualUsage } from '../usage.js';
import { ProfileChoice } from './profile-choice.js';

interface Props {
  readonly state: PlannerState;
  readonly errors: readonly Diagnostic[];
  readonly change: (state: PlannerState, stroke?: string) => void;
}

const shownAtOnce: ReadonlySet<string> = new Set(['Watch', 'Asked', 'Usage', 'Supply']);

function isOf(group: Field['group'], key: string): boolean {
  return fields.some((field) => field.group === group && field.key === key);
}

export function Controls({ state, errors, change }: Props): VNode {
  const groups = [...new Set(fields.map(({ group }) => group))];
  const usualUse = usualUsage(state.profile);
  const put = (key: string, value: string, stroke?: string): void =>
    change({ ...state, set: { ...state.set, [key]: value } }, stroke);
  return (
    <form class="controls" aria-label="Settings" onSubmit={(event) => event.preventDefault()}>
      {groups.map((group) => (
        <details
          open={shownAtOnce.has(group) || errors.some(({ source }) => isOf(group, source.file))}
        >
          <summary>{group}</summary>
          {group === 'Usage' ? <ProfileChoice state={state} change={change} /> : null}
          {fields
            .filter((field) => field.group === group)
            .map((field) => (
              <Control
                field={field}
                value={state.set[field.key] ?? ''}
                usual={usualUse[field.key] ?? (state.watchText === null ? field.usual : '')}
                errors={errors.filter(({ source }) => source.file === field.key)}
                put={(value, stroke) => put(field.key, value, stroke)}
              />
            ))}
        </details>
      ))}
    </form>
  );
}

function Control(props: {
  readonly field: Field;
  readonly value: string;
  readonly usual: string;
  readonly errors: readonly Diagnostic[];
  readonly put: (value: string, stroke?: string) => void;
}): VNode {
  const { field, value, usual, errors, put } = props;
  const { key, label, control } = field;
  const [error] = errors;
  const described = error === undefined ? {} : { 'aria-describedby': `error-${key}` };
  return (
    <div class="control">
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
          placeholder={usual === '' ? 'not set' : usual}
          spellcheck={false}
          aria-invalid={error !== undefined}
          onInput={(event) => put(event.currentTarget.value, `typed ${key}`)}
          {...described}
        />
      )}
      {control.kind === 'steps' ? (
        <input
          type="range"
          class={value === '' && usual === '' ? 'unset' : ''}
          aria-label={`${label}, as a slider`}
          min={0}
          max={control.steps.length - 1}
          value={Math.max(0, control.steps.indexOf(value === '' ? usual : value))}
          aria-valuetext={value === '' ? usual || 'not set' : value}
          onInput={(event) => put(control.steps[Number(event.currentTarget.value)] ?? '')}
        />
      ) : null}
      {error === undefined ? null : (
        <p class="error" id={`error-${key}`} role="alert">
          {error.message}
          {error.expected === undefined ? '' : `; expected ${error.expected}`}
          {error.hint === undefined ? '' : ` (${error.hint})`}
        </p>
      )}
    </div>
  );
}
