import { describe, expect, it } from 'vitest';
import {
  defaultWatchFile,
  parseScenario,
  parseWatchFile,
  starterScenarioText,
  starterWatchText,
  type WatchFile,
} from '../../src/scenarios/index.js';
import { deviceTiming } from '../../src/world/index.js';
import { errorsOf, valueOf } from './reading.js';

const read = (text: string): WatchFile => valueOf(parseWatchFile(text, 'watch.yaml'));
const refused = (text: string): readonly string[] => errorsOf(parseWatchFile(text, 'watch.yaml'));

const usual = {
  watch: {
    escalationThreshold: { open: 2, outOf: 2 },
    clearThreshold: 1,
    cooldownEndsWhenShut: true,
    afterAlert: 'keep-watching',
    retryAttempts: 5,
    unsentWhenShut: 'send',
    heartbeats: false,
    checkIntervalMs: 120_000,
    recheckIntervalMs: 120_000,
    retryIntervalMs: 60_000,
    alertCooldownMs: 1_800_000,
    wakeOn: 'timer',
    heartbeatIntervalMs: null,
  },
  timing: {
    bootTime: { least: 400, most: 400 },
    connectTime: { least: 4_000, most: 4_000 },
    clockError: { kind: 'range', least: 0, most: 0 },
  },
  judge: { leaveOpenAfterMs: 180_000, reportWithinMs: null, quietUpToMs: null },
  contact: null,
  sealGapUm: 2_000,
  supply: null,
};

describe('a watch file that sets nothing', () => {
  it.each([
    '{}',
    'watch:',
    'watch: {}',
    'watch: null\ndevice:\njudge:\ncontact:\ndoor:\nsupply:',
    'watch:\n  retry:\n',
    'watch:\n  lowBattery:\nanswer:\n',
  ])('has every setting at its default (%#)', (text) => {
    expect(read(text)).toMatchObject(usual);
    expect(read(text)).toEqual(defaultWatchFile());
  });

  // Whatever is written as a map or a list: its lines may be there as comments only.
  it.each([
    ...['boot', 'connect', 'failedAttempt', 'heartbeat', 'blink', 'hold'],
    ...['contactBias', 'regulator', 'derating', 'voltageCurve'],
  ])('has a supply as if an empty part of it were not there: %s', (key) => {
    const supply = 'supply:\n  preset: bare-board\n  capacity: 1Ah\n';
    expect(read(`${supply}  ${key}:\n`)).toEqual(read(supply));
  });

  it('charges nobody where answer.charges is empty', () => {
    expect(read('answer:\n  charges:\n').answer?.charges).toBeNull();
  });

  it('is what init writes, without a warning, but for its recheck, its requirements and its battery', () => {
    expect(parseWatchFile(starterWatchText(), 'watch.yaml')).toEqual({
      ok: true,
      value: read(
        'watch: { recheckInterval: 50s }\njudge: { reportWithin: 10m, quietUpTo: 45s }\nsupply: { preset: bare-board, capacity: 1200mAh }',
      ),
      warnings: [],
    });
  });
});

describe('a watch file', () => {
  it('sets every setting', () => {
    const text = `
$schema: ./watch.schema.json
watch:
  checkInterval: 150s
  recheckInterval: 30s
  escalationThreshold: { open: 2, outOf: 3 }
  clearThreshold: 2
  alertCooldown: PT1H
  cooldownEndsWhenShut: false
  afterAlert: hold-until-reset
  retry: { interval: 20s, attempts: 3 }
  unsentWhenShut: drop
  wakeOn: any-change
  heartbeatInterval: 12h
device:
  bootTime: { min: 300ms, max: 0.5s }
  connectTime: { min: 2s, max: 8s }
  clockError: { min: -2%, max: 150ppm }
judge: { leaveOpenAfter: 4m, reportWithin: 10m, quietUpTo: 1m }
contact: { operateGap: 8mm, releaseGap: 12, bounceTime: 1ms }
door: { sealGap: 3.5mm }
supply:
  capacity: 600mAh
  usable: 85%
  selfDischarge: { firstDay: 5%, perMonth: 2% }
  sleepCurrent: 12.8µA
  boot: { current: 31mA }
  connect: { current: 59mA, time: 3s }
  blink: { current: 4mA, time: 200ms }
`;
    expect(read(text)).toMatchObject({
      watch: {
        escalationThreshold: { open: 2, outOf: 3 },
        clearThreshold: 2,
        cooldownEndsWhenShut: false,
        afterAlert: 'hold-until-reset',
        retryAttempts: 3,
        unsentWhenShut: 'drop',
        heartbeats: true,
        checkIntervalMs: 150_000,
        recheckIntervalMs: 30_000,
        retryIntervalMs: 20_000,
        alertCooldownMs: 3_600_000,
        wakeOn: 'any-change',
        heartbeatIntervalMs: 43_200_000,
      },
      timing: {
        bootTime: { least: 300, most: 500 },
        connectTime: { least: 2_000, most: 8_000 },
        clockError: { kind: 'range', least: -20_000, most: 150 },
      },
      judge: { leaveOpenAfterMs: 240_000, reportWithinMs: 600_000, quietUpToMs: 60_000 },
      contact: { operateGapUm: 8_000, releaseGapUm: 12_000, bounceMs: 1 },
      sealGapUm: 3_500,
      supply: {
        capacityNah: 600_000_000,
        usablePpm: 850_000,
        selfDischarge: { firstDayPpm: 50_000, perMonthPpm: 20_000, protectionPerMonthPpm: 0 },
        sleepNa: 12_800,
        boot: { kind: 'current', currentNa: 31_000_000, timeMs: null },
        connect: { kind: 'current', currentNa: 59_000_000, timeMs: 3_000 },
        failedAttempt: { kind: 'current', currentNa: 59_000_000, timeMs: 3_000 },
        hold: null,
        blink: { kind: 'current', currentNa: 4_000_000, timeMs: 200 },
      },
    });
  });

  it('rechecks as often as it checks unless it says otherwise', () => {
    expect(read('watch: { checkInterval: 7m }').watch.recheckIntervalMs).toBe(420_000);
  });

  it('counts a threshold of one number as that many in a row', () => {
    const { watch } = read('watch: { escalationThreshold: 4 }');
    expect(watch.escalationThreshold).toEqual({ open: 4, outOf: 4 });
  });

  it('keeps a clock error by temperature, which a run without temperatures takes at 25 °C', () => {
    const points = '[{ celsius: -5, error: 0.01% }, { celsius: 45, error: 200ppm }]';
    const file = read(`device: { clockError: { byTemperature: ${points} } }`);
    expect(file.timing.clockError).toEqual({
      kind: 'byTemperature',
      points: [
        { celsius: -5, ppm: 100 },
        { celsius: 45, ppm: 200 },
      ],
    });
    expect(deviceTiming({}, file.timing).clockError).toEqual({
      kind: 'curve',
      steps: [{ fromMs: 0, ppm: 160 }],
    });
  });
});

describe('a range', () => {
  it.each([
    ['bootTime: 300ms..500ms', 'bootTime: { min: 300ms, max: 500ms }'],
    ['bootTime: " 300 ms .. PT1.5S "', 'bootTime: { min: 300ms, max: 1500ms }'],
    ['connectTime: 3s..9s', 'connectTime: { min: 3s, max: 9s }'],
    ['connectTime: 1.5s..1m30s', 'connectTime: { min: 1.5s, max: 90s }'],
    ['connectTime: 4s..4s', 'connectTime: 4s'],
    ['clockError: -2%..2%', 'clockError: { min: -2%, max: 2% }'],
    ['clockError: -.5%...5%', 'clockError: { min: -0.5%, max: 0.5% }'],
    ['clockError: -150ppm..20ppm', 'clockError: { min: -150ppm, max: 20ppm }'],
  ])('of the device is read as %j', (short, long) => {
    expect(read(`device: { ${short} }`).timing).toEqual(read(`device: { ${long} }`).timing);
  });
});

describe('a setting out of its range', () => {
  it.each([
    ['watch: { checkInterval: 9ms }', '1:25 out-of-range'],
    ['watch: { checkInterval: 0s }', '1:25 out-of-range'],
    ['watch: { checkInterval: 31d }', '1:25 out-of-range'],
    ['watch: { recheckInterval: 0ms }', '1:27 out-of-range'],
    ['watch: { escalationThreshold: 0 }', '1:31 out-of-range'],
    ['watch: { escalationThreshold: 11 }', '1:31 out-of-range'],
    ['watch: { escalationThreshold: -1 }', '1:31 out-of-range'],
    ['watch: { escalationThreshold: { open: 3, outOf: 2 } }', '1:39 open-above-out-of'],
    ['watch: { escalationThreshold: { open: 3, outOf: 11 } }', '1:49 out-of-range'],
    ['watch: { clearThreshold: 0 }', '1:26 out-of-range'],
    ['watch: { clearThreshold: 11 }', '1:26 out-of-range'],
    ['watch: { alertCooldown: 31d }', '1:25 out-of-range'],
    ['watch: { retry: { interval: 1ms } }', '1:29 out-of-range'],
    ['watch: { retry: { attempts: 0 } }', '1:29 out-of-range'],
    ['watch: { retry: { attempts: 101 } }', '1:29 out-of-range'],
    ['watch: { heartbeatInterval: 1ms }', '1:29 out-of-range'],
    ['device: { bootTime: 2h }', '1:21 out-of-range'],
    ['device: { bootTime: { min: 2s, max: 1s } }', '1:28 min-above-max'],
    ['device: { connectTime: { min: 2s, max: 1s } }', '1:31 min-above-max'],
    ['device: { bootTime: 2s..1s }', '1:21 min-above-max'],
    ['device: { connectTime: 2s.. }', '1:24 range-without-end'],
    ['device: { connectTime: ..9s }', '1:24 range-without-end'],
    ['device: { connectTime: 3..9s }', '1:24 duration-without-unit'],
    ['device: { connectTime: 3s..9x }', '1:24 duration-unknown-unit'],
    ['device: { connectTime: 3s..2h }', '1:24 out-of-range'],
    ['device: { clockError: 2%..-2% }', '1:23 min-above-max'],
    ['device: { clockError: 2%..300% }', '1:23 out-of-range'],
    ['device: { clockError: -2%..2 }', '1:23 clock-error-without-unit'],
    ['device: { clockError: -91% }', '1:23 out-of-range'],
    ['device: { clockError: 201% }', '1:23 out-of-range'],
    ['device: { clockError: { min: 3%, max: 2% } }', '1:30 min-above-max'],
    ['device: { clockError: 0.00005% }', '1:23 clock-error-not-whole'],
    ['judge: { leaveOpenAfter: 0s }', '1:26 out-of-range'],
    ['judge: { leaveOpenAfter: 31d }', '1:26 out-of-range'],
    ['judge: { reportWithin: 31d }', '1:24 out-of-range'],
    ['judge: { quietUpTo: 31d }', '1:21 out-of-range'],
    ['contact: { operateGap: 9mm, releaseGap: 8mm }', '1:24 operate-above-release'],
    ['contact: { operateGap: 8mm, releaseGap: 2000mm }', '1:41 out-of-range'],
    ['contact: { operateGap: -1mm, releaseGap: 8mm }', '1:24 gap-negative'],
    ['contact: { operateGap: 8mm, releaseGap: 9mm, bounceTime: 2s }', '1:58 out-of-range'],
    [
      'contact: { operateGap: 8mm, releaseGap: 9mm, bounceTime: 0.3ms }',
      '1:58 duration-not-whole-ms',
    ],
    ['door: { sealGap: 0.6m }', '1:18 gap-unknown-unit'],
    ['door: { sealGap: 501mm }', '1:18 out-of-range'],
    ['supply: { capacity: 0mAh, sleepCurrent: 1uA }', '1:21 out-of-range'],
    ['supply: { capacity: 1mAh, sleepCurrent: 1uA, usable: 101% }', '1:54 out-of-range'],
    ['supply: { capacity: 1mAh, sleepCurrent: 11A }', '1:41 out-of-range'],
  ])('is refused: %s', (text, expected) => {
    expect(refused(text)).toEqual([expected]);
  });

  it('is refused when each is fine by itself and all together make too large a machine', () => {
    const text =
      'watch: { escalationThreshold: { open: 3, outOf: 10 }, clearThreshold: 9, retry: { attempts: 90 } }';
    expect(refused(text)).toEqual(['1:31 too-many-states']);
  });
});

describe('a setting of the wrong kind', () => {
  it.each([
    ['watch: { checkInterval: 3 }', '1:25 duration-without-unit'],
    ['watch: { checkInterval: true }', '1:25 wrong-type'],
    ['watch: { checkInterval: [3m] }', '1:25 wrong-type'],
    ['watch: { checkInterval: }', '1:10 empty-value'],
    ['judge: { reportWithin: }', '1:10 empty-value'],
    ['supply: { preset: bare-board, capacity: 1Ah, selfDischarge: }', '1:46 empty-value'],
    ['answer: { afterAlert: }', '1:11 empty-value'],
    ['watch: { checkInterval: soon }', '1:25 duration-unreadable'],
    ['watch: { checkInterval: -3m }', '1:25 duration-negative'],
    ['watch: { escalationThreshold: 1.5 }', '1:31 not-whole'],
    ['watch: { escalationThreshold: two }', '1:31 wrong-type'],
    ['watch: { escalationThreshold: { open: 2 } }', '1:31 missing-key'],
    ['watch: { escalationThreshold: .nan }', '1:31 wrong-type'],
    ['watch: { escalationThreshold: .inf }', '1:31 out-of-range'],
    ['watch: { cooldownEndsWhenShut: yes }', '1:32 wrong-type'],
    ['watch: { afterAlert: hold }', '1:22 unknown-word'],
    ['watch: { afterAlert: 1 }', '1:22 wrong-type'],
    ['watch: { wakeOn: openings }', '1:18 unknown-word'],
    ['watch: { heartbeatInterval: never }', '1:29 duration-unreadable'],
    ['watch: { retry: 5 }', '1:17 wrong-type'],
    ['watch: []', '1:8 wrong-type'],
    ['device: { bootTime: { min: 1s } }', '1:21 missing-key'],
    ['device: { clockError: 0 }', '1:23 clock-error-without-unit'],
    ['device: { clockError: { byTemperature: [] } }', '1:40 empty-list'],
    ['device: { clockError: { byTemperature: [], min: 1% } }', '1:23 clock-error-twice'],
    ['device: { clockError: { byTemperature: [{ celsius: 4 }] } }', '1:41 missing-key'],
    ['contact: { operateGap: 8mm }', '1:10 missing-key'],
    ['door: { sealGap: {} }', '1:18 wrong-type'],
    ['supply: { sleepCurrent: 1uA }', '1:9 missing-key'],
    [
      'supply: { capacity: 600mAh, sleepCurrent: 1uA, blink: { current: 1mA } }',
      '1:55 missing-key',
    ],
  ])('is refused: %s', (text, expected) => {
    expect(refused(text)[0]).toBe(expected);
  });
});

describe('a file of the other kind', () => {
  it('is one mistake', () => {
    expect(parseWatchFile(starterScenarioText(), 'day.yaml')).toMatchObject({
      errors: [{ code: 'other-kind-of-file', source: { line: 4, column: 1 } }],
    });
    expect(parseScenario(starterWatchText(), 'watch.yaml')).toMatchObject({
      errors: [{ message: 'this is a watch file, but a scenario is needed here' }],
    });
  });
});

describe('an unknown key', () => {
  it.each([
    ['watch: { chekInterval: 3m }', 'did you mean checkInterval?'],
    ['watch: { check_interval: 3m }', 'did you mean checkInterval?'],
    ['wach: {}', 'did you mean watch?'],
    ['checkInterval: 3m', 'it belongs under watch'],
    ['device: { leaveOpenAfter: 3m }', 'it belongs under judge'],
    ['contact: { operateGap: 1, releaseGap: 2, bounce: 1ms }', 'did you mean bounceTime?'],
    ['watch: { escalationThreshold: { open: 1, outof: 2 } }', 'did you mean outOf?'],
    ['watch: {}\nexpect: {}', 'it belongs in a scenario'],
    ['device: { clockError: 1%, retry: {} }', 'it belongs under watch'],
    ['watch: { clockError: 1% }', 'it belongs under device'],
    ['watch: { leaveOpenAfter: 3m }', 'it belongs under judge'],
    ['watch: { interval: 1m }', 'it belongs under watch.retry'],
    ['watch: { attempts: 2, retry: { interval: 1m } }', 'it belongs under watch.retry'],
    ['watch: { judge: {} }', 'it belongs at the top level of the file'],
    ['watch: {}\ngenerate: { profile: seed-bank }', 'it belongs in a scenario'],
    ['zebra: 1', undefined],
  ])('is refused with a hint: %s', (text, hint) => {
    const result = parseWatchFile(text, 'watch.yaml');
    const unknown = result.ok ? [] : result.errors.filter(({ code }) => code === 'unknown-key');
    expect(unknown).toHaveLength(1);
    expect(unknown[0]?.hint).toBe(hint);
  });
});
