// The settings as a short text, as a data sheet carries it: to copy, or to put another in its place.
import type { VNode } from 'preact';
import { useState } from 'preact/hooks';
import { readSettingsText, settingsText } from '../settings-text.js';
import type { PlannerState } from '../state.js';
import { usageIn } from '../usage.js';
import { newsText } from './bad-news.js';

export function SettingsAsText(props: {
  readonly state: PlannerState;
  readonly change: (state: PlannerState) => void;
}): VNode {
  const { state, change } = props;
  const [error, setError] = useState<string | null>(null);
  const put = (text: string): void => {
    const read = readSettingsText(text);
    const [first] = read.ok ? [] : read.errors;
    setError(first === undefined ? null : newsText(first));
    if (!read.ok) return;
    change({
      ...state,
      watchText: null,
      filledFrom: null,
      watchName: undefined,
      set: { ...usageIn(state), ...read.value },
    });
  };
  return (
    <div class="control line as-text">
      <label for="settings-as-text">Settings as a text</label>
      <textarea
        id="settings-as-text"
        rows={3}
        spellcheck={false}
        value={settingsText(state.set)}
        aria-invalid={error !== null}
        onChange={(event) => put(event.currentTarget.value)}
        {...(error === null ? {} : { 'aria-describedby': 'error-settings-as-text' })}
      />
      {error === null ? null : (
        <p class="error" id="error-settings-as-text" role="alert">
          {error}
        </p>
      )}
    </div>
  );
}
