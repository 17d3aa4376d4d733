// The script of a report: it runs the timelines again and makes their pictures live.
import { render } from 'preact';
import { LiveTimeline } from '../../chart/index.js';
import { decodedData } from '../data/decode-data.js';
import { sceneOfRun } from '../run.js';

const data = document.getElementById('dw-data');
if (data !== null) {
  decodedData(data.textContent).timelines.forEach(({ timeline, watchFile }, index) => {
    const place = document.getElementById(`live-${index}`);
    if (place === null) return;
    place.replaceChildren();
    render(<LiveTimeline scene={sceneOfRun(timeline, watchFile)} name={timeline.name} />, place);
  });
}
