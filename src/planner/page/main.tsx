// The script of the planner. The same text runs three times: as the page, in a worker for what takes longer, and in a
// report that was taken out.
import { render } from 'preact';
import { makeLive } from '../../report/index.js';
import { App } from './app.js';
import { readStart } from './start.js';
import { answerTask, isTask } from './tasks.js';

if (typeof document === 'undefined') {
  self.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
    if (!isTask(data)) return;
    for (const answer of answerTask(data)) self.postMessage(answer);
  });
} else {
  const place = document.getElementById('planner');
  if (place === null) {
    makeLive();
  } else {
    readStart(() => {
      place.replaceChildren();
      render(<App />, place);
    });
  }
}
