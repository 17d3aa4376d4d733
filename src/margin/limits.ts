// Temperatures that goods should not pass, by name and with their source. Local rules come before all of them.
import type { Limit } from './warm-up.js';

export interface NamedLimit extends Limit {
  readonly name: string;
  readonly about: string;
  readonly source: string;
}

export const namedLimits: readonly NamedLimit[] = [
  {
    name: 'cold-food',
    celsius: 5,
    passed: 'rising',
    about: 'cold food that needs temperature control, 5 °C (41 °F) or below',
    source: 'FDA Food Code 3-501.16',
  },
  {
    name: 'thawed-food',
    celsius: 40 / 9,
    passed: 'rising',
    about: 'thawed food: above 40 °F for more than 2 h, discard it',
    source: 'USDA FSIS, FoodSafety.gov',
  },
  {
    name: 'freezer',
    celsius: -18,
    passed: 'rising',
    about: 'a freezer, −18 °C (0 °F) or below',
    source: 'USDA FSIS',
  },
  {
    name: 'vaccines',
    celsius: 8,
    passed: 'rising',
    about: 'refrigerated vaccines, 2 to 8 °C: the upper end',
    source: 'CDC vaccine storage and handling toolkit',
  },
  {
    name: 'vaccines-cold',
    celsius: 2,
    passed: 'falling',
    about: 'refrigerated vaccines, 2 to 8 °C: the lower end',
    source: 'CDC vaccine storage and handling toolkit',
  },
  {
    name: 'cut-flowers',
    celsius: 1.5,
    passed: 'rising',
    about: 'cut flowers, 0.5 to 1.5 °C: the upper end',
    source: 'Çelikel and Reid, HortScience 37 (2002)',
  },
  {
    name: 'chill-sensitive-flowers',
    celsius: 13,
    passed: 'falling',
    about: 'flowers that chilling harms: not below 10 to 13 °C, by kind; the upper end',
    source: 'Çelikel and Reid, HortScience 37 (2002)',
  },
];
