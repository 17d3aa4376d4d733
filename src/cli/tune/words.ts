// Settings and requirements in words.

import { dayMs, durationText } from '../../base/index.js';
import { writeDuration } from '../../scenarios/index.js';
import { easier, type RequirementName } from '../../tune/index.js';
import { countText, livesText } from '../../wording/index.js';

const options: Readonly<Record<RequirementName, string>> = {
  sureFrom: '--sure-from',
  worstDelay: '--worst-delay',
  quietUpTo: '--quiet-up-to',
  life: '--life',
  falseAlarms: '--false-alarms',
};

/** `--life 60d`: a requirement as its option says it. Rounded to the side that is easier to meet. */
export function requirementText(name: RequirementName, value: number): string {
  const option = options[name];
  const rounded = easier(name, value);
  return `${option} ${name === 'falseAlarms' ? `${countText(rounded, 'up')}/year` : writeDuration(rounded)}`;
}

/** What a requirement asks for, in words. */
export function askedText(name: RequirementName, value: number): string {
  switch (name) {
    case 'sureFrom':
      return `every opening of ${durationText(value)} or longer is reported`;
    case 'worstDelay':
      return `reported within ${durationText(value)}`;
    case 'quietUpTo':
      return `no alert for one opening of up to ${durationText(value)}`;
    case 'life':
      return `${value >= dayMs && value % dayMs === 0 ? durationText(value) : livesText(value)} on a charge`;
    case 'falseAlarms':
      return `at most ${countText(value, 'up')} ${value === 1 ? 'false alarm' : 'false alarms'} per year`;
  }
}
