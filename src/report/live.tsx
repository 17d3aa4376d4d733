// The timelines of a report that is open in a browser: run again from its data, and made live.
import { render } from 'preact';
import { LiveCalendar } from '../chart/index.js';
import { unpackData } from './data/decode-data.js';
import type { PageData } from './data/encode.js';
import { sceneOfRun } from './run.js';

export function makeLive(): void {
  const data = document.getElementById('dw-data');
  if (data === null) return;
  unpackData(data.textContent, ({ timelines }) => {
    timelines.forEach(draw);
  });
}

function draw({ timeline, watchFile }: PageData['timelines'][number], index: number): void {
  const place = document.getElementById(`live-${index}`);
  if (place === null) return;
  place.replaceChildren();
  // On paper the still picture takes its place.
  document.getElementById(`still-${index}`)?.classList.add('on-paper');
  render(<LiveCalendar scene={sceneOfRun(timeline, watchFile)} name={timeline.name} />, place);
}
