// The timelines of a report that is open in a browser: run again from its data, and made live.
import { render } from 'preact';
import { LiveCalendar } from '../chart/index.js';
import { unpackedData } from './data/decode-data.js';
import { sceneOfRun } from './run.js';

export async function makeLive(): Promise<void> {
  const data = document.getElementById('dw-data');
  if (data === null) return;
  const { timelines } = await unpackedData(data.textContent);
  timelines.forEach(({ timeline, watchFile }, index) => {
    const place = document.getElementById(`live-${index}`);
    if (place === null) return;
    place.replaceChildren();
    // On paper the still picture takes its place.
    document.getElementById(`still-${index}`)?.classList.add('on-paper');
    render(<LiveCalendar scene={sceneOfRun(timeline, watchFile)} name={timeline.name} />, place);
  });
}
