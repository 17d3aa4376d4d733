// An independent interpreter of SCXML's rules (states, transitions, names of events), fed from the text of a document.
// The reader here is strict: an element or an attribute that it does not know is an error, never left out.
import { createRequire } from 'node:module';
import type * as Scion from '@scion-scxml/core';
import { SaxesParser, type SaxesTagNS } from 'saxes';

const core: typeof Scion = createRequire(import.meta.url)('@scion-scxml/core');

interface State {
  readonly $type: 'scxml' | 'state';
  readonly id?: string;
  readonly initial?: string;
  readonly states: State[];
  readonly transitions: Transition[];
}

interface Transition {
  readonly event: string;
  readonly target: string;
  readonly onTransition: (() => void)[];
}

const scxmlNamespace = 'http://www.w3.org/2005/07/scxml';

/** Which attributes an element may have, and which must be there. */
const attributes: Readonly<Record<string, readonly string[]>> = {
  scxml: ['version', 'datamodel', 'name', 'initial'],
  state: ['id'],
  transition: ['event', 'target'],
  send: ['event'],
};

/** Starts the document. @returns what takes an event, and gives the names of the events that are sent for it. */
export function interpreted(text: string): (event: string) => readonly string[] {
  let sent: string[] = [];
  const model = modelOf(text, (name) => void sent.push(name));
  // As a function: what is given as an object is copied by way of JSON, which has no functions.
  const chart = new core.Statechart(() => model, {});
  chart.start();
  return (name) => {
    sent = [];
    chart.gen(name);
    return sent;
  };
}

function modelOf(text: string, send: (name: string) => void): State {
  const parser = new SaxesParser({ xmlns: true });
  const open: State[] = [];
  const roots: State[] = [];
  let transition: Transition | null = null;
  const begin = (state: State): void => {
    (open.at(-1)?.states ?? roots).push(state);
    open.push(state);
  };
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', (tag) => {
    const value = valuesOf(tag);
    const $type = tag.local;
    const base = { states: [], transitions: [] };
    if ($type === 'scxml') begin({ $type, initial: value('initial'), ...base });
    else if ($type === 'state') begin({ $type, id: value('id'), ...base });
    else if ($type === 'transition') {
      transition = { event: value('event'), target: value('target'), onTransition: [] };
      open.at(-1)?.transitions.push(transition);
    } else {
      const sent = value('event');
      transition?.onTransition.push(() => send(sent));
    }
  });
  parser.on('closetag', ({ local }) => {
    if (local === 'transition') transition = null;
    else if (local !== 'send') open.pop();
  });
  parser.on('text', (words) => {
    if (words.trim() !== '') throw new Error(`text between the elements: ${words}`);
  });
  parser.write(text).close();
  const [root] = roots;
  if (root === undefined) throw new Error('the document has no root');
  return root;
}

function valuesOf({ uri, local, attributes: given }: SaxesTagNS): (name: string) => string {
  const known = attributes[local];
  if (uri !== scxmlNamespace || known === undefined) throw new Error(`unknown element ${local}`);
  const names = Object.keys(given).filter((name) => name !== 'xmlns');
  if (names.toSorted().join(' ') !== known.toSorted().join(' ')) {
    throw new Error(`${local} has the attributes ${names.join(' ')}`);
  }
  return (name) => given[name]?.value ?? '';
}
