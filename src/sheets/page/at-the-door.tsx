// The panel at the door: a large clock, the next action, a key for each message, and the record.
import type { VNode } from 'preact';
import { useEffect, useLayoutEffect } from 'preact/hooks';
import { wrongs } from '../../drill/index.js';
import type { DrillData, SheetStep } from '../drill-data.js';
import { clockText } from './record.js';
import { RecordPart } from './record-part.js';
import { SignalPart } from './signal-part.js';
import { countInMs, type Door, useDoor } from './use-door.js';

export function AtTheDoor({ data }: { readonly data: DrillData }): VNode {
  const door = useDoor(data);
  const { progress, nowMs, isFlashing } = door;
  const step = data.steps[progress.step];
  useKeys(door);
  useMarkedStep(progress.step);
  return (
    <section class={isFlashing ? 'door flash' : 'door'} aria-label="At the door">
      <StepChoice data={data} door={door} />
      {step === undefined ? null : nowMs === null ? (
        <Ready step={step} door={door} />
      ) : (
        <UnderWay step={step} door={door} nowMs={nowMs} />
      )}
      <SignalPart door={door} />
      <RecordPart data={data} door={door} />
    </section>
  );
}

function StepChoice({ data, door }: { readonly data: DrillData; readonly door: Door }): VNode {
  const { noted, step } = door.progress;
  const wordsOf = (one: SheetStep, index: number): string => {
    const seen = noted.get(index);
    const result =
      seen === undefined ? '' : wrongs(one, seen).length === 0 ? ': passed' : ': FAILED';
    return `Step ${String(index + 1)} of ${String(data.steps.length)}, ${one.lasts}${result}`;
  };
  return (
    <p class="step-choice">
      <label>
        <span class="only-heard">Step</span>
        <select
          value={String(step)}
          disabled={door.nowMs !== null}
          onChange={({ currentTarget }) => door.goTo(Number(currentTarget.value))}
        >
          {data.steps.map((one, index) => (
            <option value={String(index)}>{wordsOf(one, index)}</option>
          ))}
        </select>
      </label>
    </p>
  );
}

/** Before a step: what it begins with. */
function Ready({ step, door }: { readonly step: SheetStep; readonly door: Door }): VNode {
  return (
    <>
      <p class="clock quiet">{clockText(0)}</p>
      <p class="deed">Shut the door, check that the network is up, disconnect the battery.</p>
      <p class="then">
        The clock then counts {String(countInMs / 1_000)} s to the power-on. The step lasts{' '}
        {step.lasts}. {step.exactness}
      </p>
      <div class="keys">
        <button type="button" class="big" onClick={door.start}>
          Start <kbd>space</kbd>
        </button>
      </div>
    </>
  );
}

interface StepUnderWay {
  readonly step: SheetStep;
  readonly door: Door;
  readonly nowMs: number;
}

function UnderWay({ step, door, nowMs }: StepUnderWay): VNode {
  const at = step.actions.findIndex(({ atMs }) => atMs > nowMs);
  const next = step.actions[at];
  const after = at < 0 ? undefined : step.actions[at + 1];
  const inSeconds = next === undefined ? 0 : Math.ceil((next.atMs - nowMs) / 1_000);
  return (
    <>
      <p class="clock" role="timer">
        {clockText(nowMs < 0 ? nowMs - 999 : nowMs)}
      </p>
      <p class="deed" aria-live="polite">
        {next === undefined ? 'The step is over: the battery is disconnected.' : next.deed}
      </p>
      <p class="then">
        {next === undefined ? '' : <strong>in {waitText(inSeconds)}</strong>}
        {after === undefined ? '' : `, then at ${clockText(after.atMs)}: ${after.deed}`}
      </p>
      <div class="keys">
        <button type="button" class="big" disabled={nowMs < 0} onClick={door.note}>
          Message received <kbd>M</kbd>
        </button>
        <button type="button" onClick={door.stop}>
          Stop this step
        </button>
      </div>
      <Messages door={door} step={step} />
    </>
  );
}

function waitText(seconds: number): string {
  return seconds < 60 ? `${String(seconds)} s` : clockText(seconds * 1_000);
}

function Messages({ door, step }: { readonly door: Door; readonly step: SheetStep }): VNode {
  const { seenMs } = door.progress;
  return (
    <>
      <p class="expected">Expected: {step.expectation}.</p>
      <ul class="seen" aria-label="Messages received">
        {seenMs.map((atMs, index) => (
          <li>
            message at {clockText(Math.round(atMs / 1_000) * 1_000)}{' '}
            <button type="button" onClick={() => door.takeBack(index)}>
              Remove
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}

/** Keys of a keyboard, but not while something is typed. */
function useKeys(door: Door): void {
  useLayoutEffect(() => {
    const press = (event: KeyboardEvent): void => {
      const { target } = event;
      const isFree =
        !(target instanceof Element) || target.closest('input,select,textarea') === null;
      if (!isFree || event.repeat || event.ctrlKey || event.metaKey || event.altKey) return;
      const key = event.key.toLowerCase();
      if (key === 'm') door.note();
      else if (key === 't') door.testSignal();
      else if (key === ' ' && door.nowMs === null && !(target instanceof HTMLButtonElement))
        door.start();
      else return;
      event.preventDefault();
    };
    document.addEventListener('keydown', press);
    return () => document.removeEventListener('keydown', press);
  });
}

/** In the checklist below, the step that is up is marked. */
function useMarkedStep(step: number): void {
  useEffect(() => {
    const marked = document.getElementById(`step-${String(step + 1)}`);
    marked?.classList.add('is-up');
    return () => marked?.classList.remove('is-up');
  }, [step]);
}
