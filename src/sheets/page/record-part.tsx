// The record of the steps that were done: to copy, or to save as a file that `drill --record` reads.
import type { VNode } from 'preact';
import { useState } from 'preact/hooks';
import { wrongs } from '../../drill/index.js';
import type { DrillData } from '../drill-data.js';
import { recordText } from './record.js';
import type { Door } from './use-door.js';

const fileName = 'results.csv';
const copiedForMs = 2_000;

export function RecordPart(props: { readonly data: DrillData; readonly door: Door }): VNode {
  const { data, door } = props;
  const { noted } = door.progress;
  const [isCopied, setCopied] = useState(false);
  const text = recordText(noted);
  const copied = (): void => {
    setCopied(true);
    window.setTimeout(() => setCopied(false), copiedForMs);
  };
  const copy = (): void => void navigator.clipboard.writeText(text).then(copied, () => undefined);
  const passed = [...noted].filter(([index, seen]) => {
    const step = data.steps[index];
    return step !== undefined && wrongs(step, seen).length === 0;
  }).length;
  return (
    <details class="record" open={noted.size > 0}>
      <summary>
        Record: {String(noted.size)} of {String(data.steps.length)} steps done
        {noted.size === 0 ? '' : `, ${String(passed)} passed`}
      </summary>
      <textarea readOnly rows={Math.min(8, noted.size + 2)} value={text} aria-label="Record" />
      <div class="keys">
        <button type="button" disabled={noted.size === 0} onClick={() => save(text)}>
          Save {fileName}
        </button>
        <button type="button" disabled={noted.size === 0} onClick={copy}>
          {isCopied ? 'Copied' : 'Copy'}
        </button>
        <button type="button" disabled={noted.size === 0} onClick={door.forget}>
          Begin again
        </button>
      </div>
      <p class="soft">
        To judge it: <code>{data.judge}</code>
      </p>
    </details>
  );
}

function save(text: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], { type: 'text/csv' }));
  link.download = fileName;
  link.click();
  window.setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
