// The script of a drill's page: a clock at the door, over the checklist that can also be printed.
import { render } from 'preact';
import { decodedDrill } from '../decode-drill.js';
import { AtTheDoor } from './at-the-door.js';

const place = document.getElementById('door');
const text = document.getElementById('dw-data')?.textContent ?? '';
if (place !== null && text !== '') {
  const data = decodedDrill(text);
  place.replaceChildren();
  render(<AtTheDoor data={data} />, place);
}
