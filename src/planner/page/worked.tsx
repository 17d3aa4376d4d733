// What a worker found: how far it is, its picture, its words.
import type { VNode } from 'preact';
import { useMemo } from 'preact/hooks';
import { figureOf } from '../../chart/index.js';
import type { Answer } from './tasks.js';

interface Props {
  readonly answer: Answer<'bounds' | 'years' | 'front'> | null;
  readonly name: string;
}

/** Drawn once for each answer: a picture is much to compare. */
export function Worked({ answer, name }: Props): VNode {
  return useMemo(() => <Found answer={answer} name={name} />, [answer, name]);
}

function Found({ answer, name }: Props): VNode {
  if (answer === null) return <p class="hint">Working …</p>;
  const picture = answer.kind === 'years' ? '' : answer.picture;
  const html = { __html: picture === '' ? '' : figureOf(picture, answer.kind) };
  return (
    <>
      {answer.share < 1 ? <progress value={answer.share} max={1} aria-label={name} /> : null}
      {picture === '' ? null : (
        <div
          class="wide"
          tabIndex={0}
          role="group"
          aria-label={name}
          dangerouslySetInnerHTML={html}
        />
      )}
      {answer.words.length === 0 ? null : (
        <ul>
          {answer.words.map((words) => (
            <li>{words}</li>
          ))}
        </ul>
      )}
    </>
  );
}
