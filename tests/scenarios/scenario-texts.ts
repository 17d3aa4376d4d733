// Scenario files, sound and odd, as texts.

/** Instants as a person writes them. */
export const instants: readonly string[] = [
  ...[
    '00:00',
    '07:30',
    '7:30',
    '07:30:15',
    '07:30:15.250',
    '23:59:59.999',
    '24:00',
    '12:60',
    '12:00:60',
    '07:30Z',
    '07:30+02:00',
    '07:30-0330',
    '07:30+25:00',
    '23:30-05',
    '01:30+14:00',
  ],
  ...[
    'day 1 07:30',
    'day 2 07:30',
    'day 2, 07:30',
    'day 2 at 07:30',
    'Day 3 23:00',
    'day 0 07:30',
    'day 12345 07:30',
    'day 2',
    'day 2 07:30Z',
    'day 1 00:00',
  ],
  ...[
    '+0s',
    '+11h',
    '+1d',
    '+90',
    '+',
    '+-5m',
    '+1h 30m',
    '11h',
    'start',
    'end',
    'now',
    '',
    ' 08:00 ',
    'noon',
    '8',
  ],
  ...[
    '2026-05-08 07:30',
    '2026-05-08T07:30:00Z',
    '2026-05-08T07:30+02:00',
    '2026-05-09',
    '2026-05-07 12:00',
    '2026-05-08 07:30[Europe/Oslo]',
    '2026-05-08 25:00',
    '2026-05-08 07:30[Mars/Base]',
    '2026-05-08 07:30:00.1234',
    '2026-13-08',
    '2026-05-08T07:30+01:00[Europe/Oslo]',
    '2026-10-25 02:30',
    '2026-03-29 02:30',
    '02:30',
    'day 2 02:30',
    '02:00',
    '03:00',
    '01:59:59',
  ],
];

/** Starts of scenarios, each with its zone. */
export const starts: readonly string[] = [
  '',
  'start: 2026-05-08T06:00:00+02:00',
  'start: 2026-05-08 06:00\nzone: Europe/Oslo',
  'start: 2026-03-28 12:00\nzone: Europe/Oslo',
  'start: 2026-10-24 12:00\nzone: Europe/Oslo',
  'start: 2026-10-25T02:30+01:00[Europe/Oslo]',
  'start: 2026-05-08 23:00\nzone: America/St_Johns',
];

const wrongStarts: readonly string[] = [
  ...[
    'start: 2026-05-08 06:00',
    'start: 6',
    'start: x',
    'start: 2026-05-08T06:00+02:00\nzone: Europe/Oslo',
    'start: 2026-05-08T06:00+01:00\nzone: Europe/Oslo',
    'start: 2026-05-08T06:00Z\nzone: Europe/Oslo',
    'start: 2026-05-08T06:00[Europe/Oslo]\nzone: Europe/Rome',
    'start: 2026-05-08T06:00[Europe/Oslo]\nzone: Europe/Oslo',
    'start: 2026-05-08T06:00+02:00\nzone: +02:00',
    'start: 2026-05-08T06:00+02:00\nzone: +03:00',
    'start: 2026-05-08 06:00\nzone: Oslo',
    'start: 2026-05-08 06:00\nzone: europe/oslo',
    'start: 2026-05-08 06:00\nzone: Europe/Olso',
    'start: 2026-05-08 06:00\nzone: ""',
    'start: 2026-03-29 02:30\nzone: Europe/Oslo',
    'start: 2026-10-25 02:30\nzone: Europe/Oslo',
    'start: 1778220000\nzone: Europe/Oslo',
    'start: "1778220000"',
    'zone: Europe/Oslo',
  ],
  ...[
    'length: 0s',
    'length: 11y',
    'length: 4000d',
    'length: 1',
    'length: ~',
    'length: 1ms',
    'powerOnAt: 30s',
    'powerOnAt: "07:30"',
    'powerOnAt: 2d',
    'powerOnAt: end',
    'powerOnAt: 5',
    'powerOnAt: x',
    'seed: 7',
    'seed: x',
    'seed: 1.5',
    'seed: ~',
    'name: ""',
    'name: 5',
    'name: the long night',
    'names: x',
    'doors: []',
    'watch: {}\nname: x',
    'watch: {}',
    'judge: {}\ndevice: {}',
    'bootTime: 1s\nname: x',
    'at: "07:00"',
    'environment: { longestOutage: 1h }',
    '[]',
    'x',
    'door',
    '5',
    '~',
    'door: "at 08:00 for 5m"',
    'door: 5',
    'door: {}',
    'door: { at: "08:00", for: 5m }',
    'network: { at: "08:00" }',
    'door: ~',
    'door: { bootTime: 1s }',
  ],
];

/** Entries of the lists, one of each list at a time. */
const entries: Readonly<Record<string, readonly string[]>> = {
  door: [
    ...[
      '"at 08:15 for 40s"',
      '"08:15 for 40s"',
      '"from 08:15 until 08:40"',
      '"from 08:15 to 08:40"',
      '"at 23:50 till 00:10"',
      '"at +11h for 25m ajar 6mm"',
      '"at 08:15 for 40s ajar at 6 mm"',
      '"at 08:15 for 40s gap 6mm"',
      '"at 08:15 for 40s, creeping to 10mm (the wind)"',
      '"at 08:15 for 40s closing to 1mm"',
      '"at 08:15 for 40s (a (b))"',
      '"at 08:15 for 40s ()"',
      '"at 08:15 for 40s (x"',
      '"at 08:15 until end"',
    ],
    ...[
      '"at 08:15"',
      '"at 08:15 for"',
      '"for 40s"',
      '"at for 40s"',
      '"08:15"',
      '"at 25:00 for 40s"',
      '"at 08:15 for 40"',
      '"at 08:15 until 08:10"',
      '"at 08:15 until day 1 07:00"',
      '"at 08:15 until 08:15"',
      '"at day 2 08:15 for 40s"',
      '"at 2026-05-04 08:15 for 1h 30m"',
      '"at 08:15 for 40s ajar 6cm"',
      '"at 08:15 for 40s ajar 6xx"',
      `"at 08:15 for ${'4'.repeat(300)}s"`,
      '5',
      '~',
      '[]',
      '{}',
    ],
    ...[
      '{ at: "08:15", for: 40s }',
      '{ at: "08:15", until: "08:40" }',
      '{ at: "08:15", for: 40s, until: "08:40" }',
      '{ at: "08:15" }',
      '{ for: 40s }',
      '{ at: +23h, for: 2h }',
      '{ at: +25h, for: 2h }',
      '{ at: -5m, for: 2h }',
      '{ at: "2026-05-03 12:00", for: 2h }',
      '{ at: "08:15", for: 0s }',
      '{ at: "08:15", for: 40s, gap: 6mm }',
      '{ at: "08:15", for: 40s, gap: 6 }',
      '{ at: "08:15", for: 40s, gap: 2m }',
      '{ at: "08:15", for: 40s, gap: 0 }',
      '{ at: "08:15", for: 40s, gap: 1.5mm, approach: creeping, note: slowly }',
      '{ at: "08:15", for: 40s, approach: creeping }',
      '{ at: "08:15", for: 40s, approach: sliding }',
      '{ at: "08:15", for: 40s, note: "" }',
      '{ at: "08:15", for: 40s, nots: x }',
      '{ at: 8:15, for: 40s }',
      '{ at: 815, for: 40s }',
    ],
    ...[
      '"at 08:00 for 10m", "at 08:05 for 10m"',
      '"at 08:00 for 10m", "at 08:10 for 10m"',
      '"at 09:00 for 10m", "at 08:00 for 2h"',
      '"at 08:00 for 3h", "at 08:30 for 5m", "at 10:00 for 5m"',
      '"at 08:00 for 10m (one)", { at: "08:00", for: 5m, note: two }',
      '"at 08:00 for 5m ajar 1mm (shut)", "at 09:00 for 5m ajar 20mm (one)", "at 09:05 for 5m ajar 9mm (two)"',
      '"at 08:00 for 1h creeping to 9mm", "at 09:00 for 1h creeping to 1mm", "at 10:00 for 1h"',
    ],
  ],
  network: [
    '{ down: "08:00", for: 1h }',
    '{ down: "08:00", until: end }',
    '{ down: "08:00" }',
    '{ at: "08:00", for: 1h }',
    '{ down: +2d, for: 1h }',
    '{ down: "08:00", for: 2h }, { down: "09:00", for: 2h }, { down: "20:00", until: "19:00" }',
    '"at 08:00 for 1h"',
  ],
  power: [
    '{ lost: "08:00", for: 1h }',
    '{ lost: "00:00", until: "02:00" }',
    '{ lost: "23:50", until: "00:10" }',
    '{ lost: "08:00", for: 1h, kind: x }',
  ],
  resets: [
    '"08:00"',
    '"08:00", +8h',
    '"08:00", "day 1 08:00"',
    '{ at: "08:00", kind: watchdog }',
    '{ at: "08:00", kind: software }, "07:00", { at: "09:00" }',
    '{ at: "08:00", kind: person }',
    '{ kind: button }',
    '5',
    '+2d',
  ],
  charged: ['"08:00"', '2h', '2h, +2h', '30h', 'x', '5'],
  battery: [
    '{ low: "08:00", for: 1h }',
    '{ low: "08:00", until: end }, { low: "07:00", for: 2h }',
    '{ low: 8 }',
    '{ low: "08:00" }',
  ],
  contact: [
    ...[
      '{ stuck: open, at: "08:00", for: 1h }',
      '{ stuck: shut, at: "08:00", until: end }',
      '{ stuck: ajar, at: "08:00", for: 1h }',
      '{ chattering: true, at: "08:00", for: 10s }',
      '{ chattering: true, at: "08:00", for: 10s, openShare: 20%, every: 1s }',
      '{ chattering: false, at: "08:00", for: 10s }',
      '{ at: "08:00", for: 10s }',
      '{ stuck: open, chattering: true, at: "08:00", for: 10s }',
      '{ stuck: open, chattering: false, at: "08:00", for: 10s }',
      '{ stuck: open, openShare: 20%, at: "08:00", for: 10s }',
      '{ stuck: open, every: 1s, at: "08:00", for: 10s }',
      '{ chattering: yes, at: "08:00", for: 10s }',
      '{ chattering: true, at: "00:00", until: end, every: 1ms }',
      '{ chattering: true, at: "00:00", until: end }',
    ],
    ...[
      '{ stuck: open, at: "08:00", for: 2h }, { stuck: shut, at: "09:00", for: 1h }',
      '{ stuck: open, at: "08:00", for: 1h }, { stuck: shut, at: "09:00", for: 1h }',
      '{ chattering: true, at: "08:00", for: 10s, openShare: 120% }',
    ],
  ],
  temperature: [
    '{ at: "08:00", celsius: 4 }',
    '{ at: "08:00", celsius: 4 }, { at: "06:00", celsius: -20.5 }',
    '{ at: "08:00", celsius: 4 }, { at: +8h, celsius: 5 }',
    '{ at: "08:00", celsius: 300 }',
    '{ at: "08:00", celsius: 4C }',
    '{ at: "08:00" }',
    '{ at: 30h, celsius: 4 }',
  ],
  environment: [
    'bootTime: 1s',
    'bootTime: 1s..2s',
    'bootTime: { min: 1s, max: 2s }',
    'bootTime: [1s, 2s, 2s]',
    'bootTime: []',
    'bootTime: 5',
    'connectTime: 3s..3s, clockError: -1%',
    'clockError: -1%..1%',
    'clockError: { min: -1%, max: 1% }',
    'clockError: { min: 1% }',
    'clockError: { min: 1%, max: -1% }',
    'clockError: [1%, 2%]',
    'clockError: []',
    'clockError: { sleeps: [1m, 2m] }',
    'clockError: { sleeps: [1m], min: 1% }',
    'clockError: 90%',
    'reset: { button: clears, watchdog: keeps, software: clears }',
    'reset: { button: x }',
    'reset: ~',
    'longestOutage: 1h',
  ],
  expect: [
    'openings: 1',
    'openings: 2, leaveOpens: 0, reported: { atLeast: 1 }, late: { atMost: 2 }, missed: { atLeast: 1, atMost: 3 }',
    'checks: { atLeast: 3, atMost: 1 }',
    'checks: {}',
    'checks: -1',
    'checks: 1.5',
    'checks: x',
    'worstDelayAtMost: 5m, worstDelayAtLeast: 0s',
    'worstDelay: 5m',
    'alerts: 1, falseAlarms: 0, earlyAlerts: 0, repeats: 0, undelivered: 0, unpowered: 0, undecided: 0, lowBatteryMessages: 1',
  ],
  generate: [
    'profile: flower-store',
    'profile: goose-house, seed: a',
    'profile: flower',
    'profile: {}',
    'seed: 5',
    'profile: seed-bank, seed: 5',
    'profile: { openingsPerHour: { "6-9": 4, "22-2": 1, "12": 0.5 }, duration: 20s }',
    'profile: { openingsPerHour: { "6-9": 4, "8": 1 }, duration: 20s }',
    'profile: { openingsPerHour: { "6-6": 4 }, duration: 20s }',
    'profile: { openingsPerHour: { "24": 4 }, duration: 20s }',
    'profile: { openingsPerHour: { "x": 4 }, duration: 20s }',
    'profile: { openingsPerHour: [1, 2], duration: 20s }',
  ],
};

const oneLists: readonly string[] = ['environment', 'expect', 'generate'];

/** Every text of a scenario. */
export function scenarioTexts(): readonly string[] {
  const lists = Object.entries(entries).flatMap(([key, texts]) =>
    texts.map((text) => (oneLists.includes(key) ? `${key}: { ${text} }\n` : `${key}: [${text}]\n`)),
  );
  return [...wrongStarts.map((text) => `${text}\n`), ...lists, ...wholeScenarios];
}

const wholeScenarios: readonly string[] = [
  `name: A day at the drying room
start: 2026-05-08 06:00
zone: Europe/Oslo
length: 2d
powerOnAt: 90s
door:
  - at 08:15 for 40s
  - from 09:00 until 09:25 ajar 6mm (a trolley)
  - { at: day 2 07:00, until: end, gap: 12mm }
network: [{ down: "08:00", for: 30m }]
power: [{ lost: "12:00", for: 1h }]
resets: [+20s, "12:30", { at: "13:30", kind: software }, { at: "14:00", kind: watchdog }]
charged: [2h]
battery: [{ low: "20:00", for: 1h }]
contact: [{ chattering: true, at: "15:00", for: 3s, openShare: 30%, every: 500ms }]
temperature: [{ at: "06:00", celsius: 4 }, { at: "18:00", celsius: -30 }]
environment: { bootTime: 300ms..500ms, connectTime: [3s, 4s], reset: { button: clears } }
seed: 7
expect: { openings: 3, worstDelayAtMost: 10m }
`,
  `length: 3d
door: ["at 08:00 for 5m", "at day 2 09:00 for 3h"]
generate: { profile: flower-store, seed: 3 }
`,
  `length: 1d
environment: { clockError: 1% }
temperature: [{ at: "06:00", celsius: 4 }]
resets: ["00:00", +1h]
power: [{ lost: +30m, for: 1h }]
`,
  `door:
  - at 08:00 for 5m
   - at 09:00 for 5m
`,
  `door:
  - at 08:00 for 5m
 - at 09:00 for 5m
`,
  `door:
- at: "08:00"
  for: 5m
 gap: 3mm
`,
  `door:
  - at: "08:00"
    for: 5m
     gap: 3mm
`,
  `door:
    - at: "08:00"
      for: 5m
  - at: "09:00"
    for: 5m
`,
  `name: x # here
  length: 1d
`,
  `door:
  - at 08:00
    for 5m
`,
  `expect:
  openings: 1
 missed: 0
`,
  `expect:
    openings: 1
  missed: 0
network:
      - down: "08:00"
        for: 1h
    - down: "09:00"
`,
];

/** Watch files that a scenario is read with. */
export const watches: readonly (readonly [name: string, text: string])[] = [
  ['plain', ''],
  [
    'contact',
    'contact: { operateGap: 8mm, releaseGap: 12mm, bounceTime: 3ms }\ndoor: { sealGap: 3mm }\ndevice: { reset: { button: keeps } }\nwatch: { lowBattery: { at: 20% } }\n',
  ],
  [
    'curve',
    'device: { clockError: { byTemperature: [{ celsius: 0, error: 1% }, { celsius: 25, error: -1% }] } }\ndoor: { opensAtLeast: 10mm }\nsupply: { capacity: 1Ah, sleepCurrent: 10uA }\n',
  ],
];
