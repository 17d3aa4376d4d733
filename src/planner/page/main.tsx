// The script of the planner. The same text runs twice: as the page, and in a worker for what takes longer.
import { render } from 'preact';
import { App } from './app.js';
import { answerTask, isTask } from './tasks.js';

if (typeof document === 'undefined') {
  self.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
    if (!isTask(data)) return;
    for (const answer of answerTask(data)) self.postMessage(answer);
  });
} else {
  const place = document.getElementById('planner');
  if (place !== null) {
    place.replaceChildren();
    render(<App />, place);
  }
}
