// The script of a drill's page: a clock at the door, over the checklist that can also be printed.
import { render } from 'preact';
import type { DrillData } from '../drill-data.js';
import { AtTheDoor } from './at-the-door.js';

const place = document.getElementById('door');
const text = document.getElementById('dw-data')?.textContent ?? '';
if (place !== null && text !== '') {
  // The page carries what this project wrote into it.
  const data = JSON.parse(text) as DrillData;
  place.replaceChildren();
  render(<AtTheDoor data={data} />, place);
}
