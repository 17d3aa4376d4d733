// The script of a report.
import { makeLive } from '../live.js';

makeLive();
