// Files given where another kind of file is needed: the hint works for the command that prints it.
import { type GoldenCase, refused } from '../case.js';

export const otherKindCases: readonly GoldenCase[] = [
  refused(
    'files-of-another-kind',
    [
      'place doors.csv',
      'place watch.yaml --sleep-current',
      'drill -c watch.yaml --record doors.csv',
      'silence -c watch.yaml --charged 2026-03-01 --now 2026-03-09 --profile seed-bank --messages doors.csv',
      'silence -c watch.yaml --charged 2026-03-01 --now 2026-03-09 --profile seed-bank --messages lowbat.csv',
      'estimate -c watch.yaml --profile watch.yaml',
      'estimate -c doors.csv',
      'estimate -c trials.csv',
      'bounds -c watch.yaml --profile doors.csv',
      'replay usage.yaml -c watch.yaml',
      'report firmware.c -c watch.yaml -o page.html',
      'battery -c pouch.yaml',
      'place volts.csv --sleep-current',
    ],
    {
      files: {
        'watch.yaml': 'watch: { checkInterval: 3m }\n',
        'doors.csv': 'time,state\n2026-03-02T00:00:00Z,shut\n2026-03-02T07:45:04Z,open\n',
        'lowbat.csv': 'time,event\n2026-03-02T00:00:00Z,lowbat\n2026-03-03T00:00:00Z,alert\n',
        'trials.csv': 'direction,gap,reads\nclosing,4,shut\n',
        'usage.yaml': 'openingsPerHour: 2\n',
        'firmware.c': 'int main(void) { return 0; }\n',
        'pouch.yaml': 'supply: { cells: li-ion-pouch, preset: bare-board }\n',
        'volts.csv': 'cells,lithium-aa\nseries,2\nvolts,0d,3.2V\nvolts,60d,3.1V\n',
      },
    },
  ),
];
