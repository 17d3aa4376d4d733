// What a log does not know: spans without a state, openings that are cut off, and several doors or devices in one log.
import { type GoldenCase, golden } from '../case.js';

const watch = `watch: { checkInterval: 2m, recheckInterval: 45s, escalationThreshold: 2, alertCooldown: 30m, heartbeatInterval: 1d }
device: { bootTime: 400ms, connectTime: 4s }
judge: { leaveOpenAfter: 10m, reportWithin: 12m, quietUpTo: 30s }
`;

/** Two doors; of the hatch nothing is known from 90 s after it opened on the 8th. */
const doors = `time,sensor,state
2026-05-04T06:00:00Z,hatch,shut
2026-05-04T10:00:00Z,hatch,open
2026-05-04T10:14:00Z,hatch,shut
2026-05-05T06:20:00Z,hatch,open
2026-05-05T06:21:00Z,hatch,shut
2026-05-05T06:22:00Z,gate,open
2026-05-05T06:23:00Z,gate,shut
2026-05-06T07:00:00Z,hatch,open
2026-05-06T07:09:59Z,hatch,shut
2026-05-08T11:00:00Z,hatch,open
2026-05-08T11:01:30Z,hatch,unavailable
2026-05-08T12:10:00Z,hatch,shut
2026-05-09T09:00:00Z,hatch,open
2026-05-09T09:31:00Z,hatch,shut
2026-05-10T18:00:00Z,hatch,shut
`;
const messages = `time,event
2026-05-04T10:02:00Z,alert
2026-05-05T06:00:00Z,heartbeat
2026-05-09T09:02:00Z,alert
`;
/** Three openings on each of seven days: less than a week from the first to the last. */
const week = [2, 3, 4, 5, 6, 7, 8].flatMap((day) =>
  [
    ['08:00:00', '08:00:40'],
    ['12:00:00', '12:12:00'],
    ['16:30:00', '16:33:00'],
  ].map((times) => times.map((time) => `2026-05-0${String(day)} ${time}`).join(',')),
);
const files = { 'watch.yaml': watch, 'doors.csv': doors, 'messages.csv': messages };

export const logCases: readonly GoldenCase[] = [
  golden(
    'compare/partly-seen',
    [
      'compare doors.csv --where sensor=hatch --device-log messages.csv -c watch.yaml # status 1',
      'compare doors.csv --where sensor=hatch --device-log messages.csv -c watch.yaml --json # status 1',
    ],
    { files },
  ),
  golden(
    'profile/partly-seen',
    [
      'profile doors.csv --where sensor=hatch -c watch.yaml',
      'profile doors.csv --where sensor=hatch -c watch.yaml --from 2026-05-04T10:03Z --until 2026-05-09T09:20Z --json',
      'profile doors.csv --where sensor=hatch -c watch.yaml --as-logged',
      'estimate --profile-from doors.csv --where sensor=hatch -c watch.yaml --years 2 --jobs 1',
    ],
    { files },
  ),
  golden(
    'logs/cut-openings',
    [
      'replay doors.csv --where sensor=hatch -c watch.yaml --from 2026-05-04T10:03Z --until 2026-05-09T09:20Z --every-phase # status 1',
      'replay doors.csv --where sensor=hatch -c watch.yaml --from 2026-05-04T10:05Z --until 2026-05-09T09:05Z # status 1',
    ],
    { files },
  ),
  golden(
    'silence/one-of-several-doors',
    [
      'silence -c watch.yaml --charged 2026-05-03 --now 2026-05-10T18:00Z --messages messages.csv --profile-from doors.csv --where sensor=hatch # status 1',
      'silence -c watch.yaml --charged 2026-05-03 --now 2026-05-10T18:00Z --messages messages.csv --where sensor=hatch # status 2',
    ],
    { files },
  ),
  golden(
    'estimate/days-that-rows-do-not-show',
    ['estimate -c watch.yaml --profile-from week.csv --zone Europe/Oslo --years 3 --jobs 1'],
    {
      files: {
        'watch.yaml': watch,
        'week.csv': `start,end\n${week.join('\n')}\n`,
      },
    },
  ),
];
