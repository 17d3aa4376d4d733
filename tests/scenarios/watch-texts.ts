// Watch files, sound and odd, as texts.
import { linesOf } from './texts.js';

/** Values as they stand in a file. */
export const typedValues: readonly string[] = [
  ...[
    '90s',
    '1h',
    '0s',
    '1ms',
    '500ms',
    '40d',
    'PT2M',
    '200w',
    '2',
    '3',
    '0',
    '-1',
    '11',
    '1.5',
    '1e9',
    '2s..8s',
    '8s..2s',
    '2s..',
    '{ min: 1s, max: 3s }',
    '{ min: 3s, max: 1s }',
    '{ min: 1s }',
  ],
  ...[
    '2/3',
    '{ open: 2, outOf: 3 }',
    '{ open: 3, outOf: 2 }',
    '{ open: 2 }',
    '{ open: 2, outOf: 3, of: 4 }',
    'true',
    'false',
    'yes',
    'off',
    'keeps',
    'clears',
    'opening',
    'timers',
    'boost',
    'linear',
    'check-only',
    'drop',
    'hold-until-reset',
  ],
  ...[
    '8mm',
    '8',
    '9.5',
    '2.0001mm',
    '1cm',
    '2m',
    '20%',
    '150%',
    '0%',
    '-2%',
    '-2%..2%',
    '{ min: -1%, max: 1% }',
    '100ppm',
    '3V',
    '3300mV',
    '10uA',
    '31mA',
    '1200mAh',
    '5A',
    '45kOhm',
    '-20',
    '300',
  ],
  ...[
    '{ current: 31mA }',
    '{ current: 31mA, time: 2s }',
    '{ charge: 3.8mC }',
    '{ charge: 3mC, time: 2s }',
    '{ time: 2s }',
    '{ median: 15m, sigma: 0.8 }',
    '{ day: 15m, night: 8h }',
    '{ day: 15m, night: 8h, nightFrom: "21:30", nightUntil: "6:00" }',
    '{ day: 15m }',
    '{ median: 15m, night: 8h }',
    '{ sigma: 1 }',
    '{ day: 1m, night: 1h, nightFrom: "24:00" }',
    '{ day: 1m, night: 1h, nightFrom: 2100 }',
  ],
  ...[
    '{ firstDay: 5%, perMonth: 2%, protectionPerMonth: 1% }',
    '{ firstDay: 5% }',
    '[{ celsius: 0, share: 80% }, { celsius: 20, share: 100% }]',
    '[{ celsius: 0, share: 80% }, { celsius: 0, share: 90% }]',
    '[{ left: 100%, voltage: 4.2V }, { left: 0%, voltage: 3V }]',
    '[{ left: 0%, voltage: 4V }, { left: 100%, voltage: 3V }]',
    '[{ left: 0%, voltage: 4V }]',
    '{ byTemperature: [{ celsius: 0, error: 1% }, { celsius: 20, error: 0% }] }',
    '{ byTemperature: [{ celsius: 0, error: 1% }, { celsius: 0, error: 0% }] }',
    '{ byTemperature: [], min: 1% }',
    '{ byTemperature: [] }',
  ],
  ...['alkaline-aa', 'alkaline', '~', '""', '[]', '{}', '[1]', 'x'],
];

/** Values as they are typed into an option or a field. */
export const typings: readonly string[] = [
  ...[
    '90s',
    ' 2m ',
    '0',
    '3',
    '-4',
    '2.5',
    '007',
    '2/3',
    '2 of 3',
    '4 out of 3',
    '2/',
    '2s..8s',
    '8s..2s',
    '2s..',
    '-2%..2%',
    '1%',
    '0C: 1%, 25C: 0%',
    '-20: 8%',
    '0°C: 1%,',
    '0: ',
    '31mA',
    '31mA for 2s',
    '31mA for 2s for 3s',
    '3.8mC',
    '3mAh',
    '3.8mC for 2s',
    ' for 2s',
    '100%: 4.2V, 0%: 3V',
    '20C: 100%, 0C: 80%',
    'true',
    'false',
    'no',
    'off',
    'keeps',
    'boost',
    '8mm',
    '.5',
    '20%',
    '3.3V',
    '10uA',
    '1200mAh',
    '45kOhm',
    'alkaline-aa',
    '',
  ],
  ...[
    '{ firstDay: 5%, perMonth: 2% }',
    '{ min: 1s, max: 3s }',
    '{ open: 2, outOf: 3 }',
    '{ open: 2',
    '[{ celsius: 0, share: 80% }]',
    '[{ left: 100%, voltage: 4V }, { left: 0%, voltage: 3V }]',
    '{ day: 15m, night: 8h }',
    '{ charge: 3mC }',
    '{ byTemperature: [{ celsius: 0, error: 1% }] }',
    '[]',
    '{}',
  ],
  ...[
    '{ open: "2", outOf: "3" }',
    '{ open: 2, outOf: "3" }',
    '{ current: 31, time: 2s }',
    '{ min: 1, max: 2 }',
    '[{ celsius: "0", share: 80% }, { celsius: 20, share: 90% }]',
    '{ byTemperature: [{ celsius: 0, error: 1 }] }',
    '{ byTemperature: [{ celsius: 0, error: 1%, x: 2 }] }',
    '[{ left: 1, voltage: 4V }]',
    '{ max: 3s, min: 1s }',
    '[1, 2]',
    '{ charge: {} }',
  ],
];

type Sections = Readonly<Record<string, Readonly<Record<string, string>>>>;

const cells = { cells: 'alkaline-aa', series: '3', sleepCurrent: '10uA' };
const plainSupply = { capacity: '1200mAh', sleepCurrent: '10uA', boot: '{ current: 31mA }' };

/** What a setting needs beside itself, by its beginning; the first that fits is taken. */
const besides: readonly (readonly [start: string, sections: Sections])[] = [
  ['contact', { contact: { operateGap: '8mm', releaseGap: '12mm' } }],
  ['supply.regulator', { supply: cells }],
  ['supply.series', { supply: cells }],
  ['supply.parallel', { supply: cells }],
  ['supply.cells', { supply: { sleepCurrent: '10uA' } }],
  ['supply.celsius', { supply: { ...plainSupply, derating: '[{ celsius: 0, share: 50% }]' } }],
  ['supply.derating', { supply: { ...plainSupply, celsius: '4' } }],
  ['supply', { supply: plainSupply }],
  ['environment.outagesApart', { environment: { longestOutage: '1h', outages: '2' } }],
  ['environment.outages', { environment: { longestOutage: '1h' } }],
  ['environment.powerLossLasting', { environment: { powerLosses: '1' } }],
];

const regulator = { kind: 'boost', quiescent: '5uA', efficiency: '85%', voltage: '3.3V' };

function flow(entries: Readonly<Record<string, string>>): string {
  return `{ ${Object.entries(entries)
    .map(([key, value]) => `${key}: ${value}`)
    .join(', ')} }`;
}

/** A file with a setting and what that needs; null as the value: without the setting. */
export function aroundOf(path: readonly string[], value: string): string;
export function aroundOf(path: readonly string[], value: null): string | null;
export function aroundOf([section = '', key = '', inner]: readonly string[], value: string | null) {
  const sections = besides.find(([start]) => `${section}.${key}`.startsWith(start))?.[1] ?? {};
  const own: Record<string, string> = { ...sections[section] };
  const isRegulator = key === 'regulator';
  if (inner !== undefined) {
    const within: Record<string, string> = isRegulator ? { ...regulator } : {};
    if (value !== null) within[inner] = value;
    if (Object.keys(within).length > 0) own[key] = flow(within);
  } else if (value !== null) own[key] = value;
  const texts = Object.entries({ ...sections, [section]: own }).map(([name, entries]) =>
    Object.keys(entries).length === 0 ? '' : `${name}: ${flow(entries)}\n`,
  );
  const text = texts.join('');
  return text === '' && value === null ? null : text;
}

export interface WatchText {
  readonly text: string;
  readonly file?: string;
}

export const oddWatchFiles: readonly WatchText[] = [
  ...linesOf('watch-files-odd').map((text) => ({ text })),
  { text: 'x', file: 'doors.csv' },
  { text: 'watch: {}', file: 'doors.csv.gz' },
  ...[
    '{}',
    '',
    '{"watch": {"checkInterval": "3m"}}',
    '{"watch": {"checkInterval": "3m",}}',
    "{'watch': {}}",
    '{"watch": {}} x',
    '{"watch": {"checkInterval": 3m}}',
    '{"watch"',
    '{"watch": {}\n,,}',
    '[',
    '"x',
    '{"a": "\\x"}',
    '{"watch": {"checkInterval": "3m", "checkInterval": "4m"}}',
    '{"watch": tru}',
    '// x\n{}',
    '{"watch": {"checkInterval": 5}}',
    'nul',
    '{"a": 01}',
    '{"a":\t"b\tc"}',
  ].map((text) => ({ text, file: 'watch.JSON' })),
];

/** Boards and cells in the ways that they can be combined. */
export const supplies: readonly WatchText[] = [
  ...[
    'capacity: 1200mAh, sleepCurrent: 10uA',
    'capacity: 1200mAh, sleepCurrent: 10uA, usable: 85%, selfDischarge: 2%',
    'capacity: 2Ah, sleepCurrent: 1mA, boot: { current: 31mA }, connect: { charge: 40mC }, heartbeat: { charge: 3mC }, failedAttempt: { current: 90mA, time: 3s }, hold: { current: 5mA }, blink: { charge: 1mC }',
    'capacity: 2Ah, sleepCurrent: 1mA, blink: { current: 4mA }',
    'capacity: 2Ah, sleepCurrent: 1mA, blink: { current: 4mA, time: 200ms }',
    'capacity: 2Ah, sleepCurrent: 1mA, hold: { current: 4mA, time: 1s }',
    'capacity: 2Ah, sleepCurrent: 1mA, hold: { charge: 4mC }',
  ],
  ...[
    'capacity: 2Ah, sleepCurrent: 1mA, celsius: 4',
    'capacity: 2Ah, sleepCurrent: 1mA, derating: [{ celsius: 4, share: 50% }]',
    'capacity: 2Ah, sleepCurrent: 1mA, celsius: 10, derating: []',
    'capacity: 2Ah, sleepCurrent: 1mA, celsius: 10, derating: [{ celsius: 20, share: 100% }, { celsius: 0, share: 60% }]',
    'capacity: 2Ah, sleepCurrent: 1mA, celsius: -5, derating: [{ celsius: 20, share: 100% }, { celsius: 0, share: 60% }]',
    'capacity: 2Ah, sleepCurrent: 1mA, contactBias: { resistance: 45kOhm }',
    'capacity: 2Ah, sleepCurrent: 1mA, contactBias: { resistance: 1MOhm, voltage: 3V, powered: check-only }',
    'capacity: 2Ah, sleepCurrent: 1mA, contactBias: {}',
    'capacity: 2Ah, sleepCurrent: 1mA, voltageCurve: [{ left: 100%, voltage: 4.2V }, { left: 0%, voltage: 3V }, { left: 50%, voltage: 3.7V }]',
    'capacity: 2Ah',
    'sleepCurrent: 1mA',
    'preset: x',
    'preset: bare-board',
    'preset: maker-board, capacity: 1Ah',
    'preset: tuned-board, capacity: 1Ah, sleepCurrent: 1uA, boot: { charge: 3mC }',
    'preset: bare-radio-module, cells: alkaline-aa, series: 3',
    'preset: bare-board, cells: li-ion-pouch, capacity: 2Ah, celsius: 4',
  ],
  ...[
    'alkaline-aa',
    'lithium-aa',
    'nimh-aa',
    'lifepo4-18650',
    'lithium-coin',
    'li-ion-pouch',
  ].flatMap((name) => [`cells: ${name}, sleepCurrent: 10uA`]),
  ...[
    'series: 2',
    'series: 3, parallel: 2',
    'series: 2, capacity: 1Ah',
    'usable: 80%',
    'selfDischarge: 1%',
    'series: 3, celsius: 5',
    'series: 3, celsius: 40',
    'series: 3, celsius: 5, derating: [{ celsius: 0, share: 50% }]',
    'connect: { current: 200mA }',
    'series: 4, connect: { current: 900mA }, regulator: { kind: linear, quiescent: 5uA }',
    'series: 2, connect: { current: 200mA, time: 4s }, boot: { charge: 12mC }, regulator: { kind: boost, quiescent: 60uA, efficiency: 80% }',
    'series: 4, connect: { current: 200mA }, regulator: { kind: buck, quiescent: 60uA, efficiency: 80%, voltage: 3V }',
    'series: 1, regulator: { kind: buck, quiescent: 60uA, efficiency: 80% }',
    'series: 3, regulator: { kind: linear, quiescent: 60uA, efficiency: 80% }',
    'series: 2, regulator: { kind: boost, quiescent: 60uA }',
    'regulator: { quiescent: 60uA }',
    'parallel: 3, connect: { current: 2A }',
    'series: 2, connect: { current: 30A }',
    'series: 2, voltageCurve: [{ left: 100%, voltage: 3V }, { left: 0%, voltage: 2V }]',
  ].map((more) => `cells: alkaline-aa, sleepCurrent: 10uA, ${more}`),
  ...[
    'series: 3, capacity: 1Ah, sleepCurrent: 1uA',
    'regulator: { kind: linear, quiescent: 1uA }, capacity: 1Ah, sleepCurrent: 1uA',
    'parallel: 0, cells: alkaline-aa, sleepCurrent: 1uA',
  ],
].map((inner) => ({ text: `supply: { ${inner} }\n` }));

/** Settings that cancel each other, by turns. */
export function watchesThatWarn(): readonly WatchText[] {
  const at = <T>(list: readonly T[], turn: number): T | undefined => list[turn % list.length];
  return Array.from({ length: 220 }, (_, turn): WatchText => {
    const watch = [
      at(['checkInterval: 2m', 'checkInterval: 10s', 'checkInterval: 1h', ''], turn),
      at(['', 'recheckInterval: 30s', ''], turn >> 1),
      at(
        [
          'escalationThreshold: 1',
          '',
          'escalationThreshold: { open: 2, outOf: 5 }',
          'escalationThreshold: 3',
          'escalationThreshold: { open: 1, outOf: 3 }',
        ],
        turn,
      ),
      at(['', 'clearThreshold: 2', ''], turn),
      at(['', 'alertCooldown: 0s', 'alertCooldown: 1m', 'alertCooldown: 2m'], turn >> 2),
      at(['', 'cooldownEndsWhenShut: true', 'cooldownEndsWhenShut: false'], turn >> 1),
      at(['', 'afterAlert: hold-until-reset', '', ''], turn >> 1),
      at(
        [
          '',
          'retry: { attempts: 1 }',
          'retry: { interval: 3m }',
          'retry: { attempts: 1, interval: 5m }',
        ],
        turn >> 3,
      ),
      at(['', '', 'wakeOn: opening', 'wakeOn: any-change'], turn >> 2),
      at(
        ['', 'heartbeatInterval: 30s', 'heartbeatInterval: 6h', 'heartbeatInterval: 2m'],
        turn >> 1,
      ),
      at(
        ['', '', 'lowBattery: { at: 20% }', 'lowBattery: { atVoltage: 3V, repeat: 2d }'],
        turn >> 2,
      ),
    ];
    const judge = [
      at(['', 'leaveOpenAfter: 1m', 'leaveOpenAfter: 2h'], turn),
      at(['', 'reportWithin: 1m', 'reportWithin: 4m', 'reportWithin: 3h'], turn >> 1),
      at(['', 'quietUpTo: 30s', 'quietUpTo: 3m'], turn >> 2),
    ];
    const sections: readonly (readonly [string, readonly (string | undefined)[]])[] = [
      ['watch', watch],
      ['judge', judge],
      [
        'device',
        [
          at(
            [
              '',
              'bootTime: 200ms',
              'bootTime: 1ms..3s',
              'reset: { button: clears, watchdog: clears, software: clears }',
            ],
            turn >> 1,
          ),
          at(['', 'clockError: -2%..2%'], turn),
        ],
      ],
      [
        'contact',
        at(
          [
            [],
            ['operateGap: 1mm', 'releaseGap: 9mm', 'bounceTime: 3ms'],
            ['operateGap: 8mm', 'releaseGap: 9mm', 'bounceTime: 400ms'],
            [],
          ],
          turn >> 1,
        ) ?? [],
      ],
      ['answer', [at(['', '', 'charges: { afterWarning: 2d }'], turn)]],
      ['supply', at([[], ['capacity: 1Ah', 'sleepCurrent: 9uA'], []], turn >> 1) ?? []],
    ];
    const texts = sections.flatMap(([name, all]) => {
      const said = all.filter((one) => one !== '' && one !== undefined);
      return said.length === 0 ? [] : [`${name}: { ${said.join(', ')} }\n`];
    });
    return { text: texts.join('') };
  }).filter(({ text }) => text !== '');
}
