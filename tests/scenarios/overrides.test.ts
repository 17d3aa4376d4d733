// Settings laid over a watch file: read by its definition, named by where they came from.
import { describe, expect, it } from 'vitest';
import {
  overlaidWatchText,
  parseWatchFile,
  starterWatchText,
  type WatchFile,
  type WatchOverride,
  watchTextSaying,
  wholeWatchFile,
} from '../../src/scenarios/index.js';

function override(path: string, value: unknown, source = '--option'): WatchOverride {
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  return { path: path.split('.'), value, text, source };
}

function read(text: string | null, ...overrides: readonly WatchOverride[]): WatchFile {
  const result = parseWatchFile(text, 'watch.yaml', overrides);
  if (!result.ok) throw new Error(JSON.stringify(result.errors));
  return result.value;
}

function errorOf(text: string | null, ...overrides: readonly WatchOverride[]) {
  const result = parseWatchFile(text, 'watch.yaml', overrides);
  if (result.ok) throw new Error('it was believed');
  return result.errors[0];
}

const file = 'watch: { checkInterval: 2m, recheckInterval: 20s }\njudge: { leaveOpenAfter: 4m }\n';

describe('settings laid over a watch file', () => {
  it('stand in place of what the file says, and leave the rest', () => {
    const { watch, judge } = read(file, override('watch.checkInterval', '5m'));
    expect(watch.checkIntervalMs).toBe(300_000);
    expect(watch.recheckIntervalMs).toBe(20_000);
    expect(judge.leaveOpenAfterMs).toBe(240_000);
  });

  it('stand over the defaults where there is no file', () => {
    const { watch } = read(null, override('watch.checkInterval', '5m'));
    // Its default follows the check interval.
    expect(watch.recheckIntervalMs).toBe(300_000);
    expect(watch.escalationThreshold).toEqual({ open: 2, outOf: 2 });
  });

  it('replace a map as a whole', () => {
    const given = 'watch: { escalationThreshold: { open: 2, outOf: 5 }, clearThreshold: 4 }';
    const { watch } = read(given, override('watch.escalationThreshold', 3));
    expect(watch.escalationThreshold).toEqual({ open: 3, outOf: 3 });
  });

  it.each(['watch:\n', 'device: {}\n'])('make the section that %j lacks', (text) => {
    expect(read(text, override('watch.alertCooldown', '0s')).watch.alertCooldownMs).toBe(0);
  });

  it('are what a warning found where they make a default one to change, and its hint names options', () => {
    const result = parseWatchFile(null, 'watch.yaml', [
      override('watch.checkInterval', '5m', '--interval'),
    ]);
    expect(result.ok && result.warnings[0]).toMatchObject({
      code: 'leave-open-too-short-at-rest',
      source: { file: '--interval' },
      found: '5m',
      hint: 'lower --recheck or --threshold, or raise --leave-open-after',
    });
  });

  // What an option takes as a text, written into a file: the hint is what the file takes.
  it.each([
    ['watch: { escalationThreshold: 3 of 5 }', '{ open: 3, outOf: 5 }'],
    ['watch: { escalationThreshold: 2/3 }', '{ open: 2, outOf: 3 }'],
    [
      'supply: { preset: bare-board, capacity: 1Ah, boot: 20mA for 3s }',
      '{ current: 20mA, time: 3s }',
    ],
  ])('are spelled out for a file: %s', (text, long) => {
    const error = errorOf(text);
    expect(error).toMatchObject({ code: 'wrong-type', hint: `write ${long}` });
    expect(parseWatchFile(text.replace(error?.found ?? '', long), 'watch.yaml').ok).toBe(true);
  });

  it('are named in errors by where they came from, with what was written', () => {
    expect(errorOf(file, override('watch.checkInterval', '3', '--interval'))).toMatchObject({
      code: 'duration-without-unit',
      source: { file: '--interval' },
      found: '3',
    });
    expect(errorOf(null, override('device.connectTime', { min: '8s', max: '2s' }))).toMatchObject({
      code: 'min-above-max',
      source: { file: '--option' },
      found: '{"min":"8s","max":"2s"}',
    });
  });

  it('are named in warnings too, and what no file says has no place', () => {
    const result = parseWatchFile(null, 'the defaults', [
      override('watch.alertCooldown', '1m', '--cooldown'),
      override('watch.checkInterval', '40m', '--interval'),
    ]);
    const warnings = result.ok ? result.warnings : [];
    expect(warnings.map(({ code, source }) => [code, source])).toEqual([
      ['cooldown-over-by-next-check', { file: '--cooldown' }],
      ['leave-open-too-short-at-rest', { file: '--interval' }],
    ]);
  });

  it('hide no error of the file itself', () => {
    expect(errorOf('[1]', override('watch.checkInterval', '3m'))).toMatchObject({
      code: 'wrong-type',
      source: { file: 'watch.yaml', line: 1 },
    });
    expect(errorOf('watch: [1]', override('watch.checkInterval', '3m'))).toMatchObject({
      code: 'wrong-type',
    });
    expect(errorOf('', override('watch.checkInterval', '3m'))?.source.file).toBe('watch.yaml');
  });

  it('are written out with the file, to the same settings', () => {
    const overrides = [
      override('watch.escalationThreshold', { open: 2, outOf: 3 }),
      override('watch.clearThreshold', 2),
    ];
    const comment = ['made for\na test'];
    const text = overlaidWatchText(file, 'watch.yaml', { overrides, comment });
    expect(text.startsWith('# made for a test\n')).toBe(true);
    expect(read(text)).toEqual(read(file, ...overrides));
    expect(read(overlaidWatchText(null, '-', { overrides, comment }))).toEqual(
      read(null, ...overrides),
    );
  });
});

describe('a watch file that is written again', () => {
  const comments = (text: string): readonly string[] => text.match(/#.*$/gmu) ?? [];
  const starter = starterWatchText();
  const overrides = [
    override('watch.checkInterval', '90s'),
    override('watch.escalationThreshold', { open: 2, outOf: 3 }),
    override('device.connectTime', '2s..8s'),
    override('supply.connect', { charge: '3mC' }),
    override('environment.resets', 2),
  ];

  it('keeps every comment and the order of what it does not change', () => {
    const text = overlaidWatchText(starter, 'watch.yaml', { overrides, comment: ['made'] });
    expect(comments(text)).toEqual(['# made', ...comments(starter)]);
    const keys = (of: string): readonly string[] => of.match(/^\s*\w+(?=:)/gmu) ?? [];
    expect(keys(text).filter((key) => keys(starter).includes(key))).toEqual(keys(starter));
    expect(read(text)).toEqual(read(starter, ...overrides));
  });

  it('writes a range as its ends', () => {
    const text = overlaidWatchText(starter, 'watch.yaml', { overrides, comment: [] });
    expect(text).toContain(
      '\n  connectTime: { min: 2s, max: 8s } # from a check to the end of an attempt to send; or 2s..8s\n',
    );
  });

  it('comes from JSON as well', () => {
    const json = '{ "watch": { "checkInterval": "1m" } }';
    const some = overrides.slice(0, 3);
    const text = overlaidWatchText(json, 'watch.json', { overrides: some, comment: [] });
    expect(read(text)).toEqual(read(json, ...some));
  });

  it.each(['watch:\njudge:\n', 'watch: { checkInterval: 1m }\n', '\ufeffwatch: {}\n'])(
    'makes the sections that %j lacks',
    (given) => {
      const text = overlaidWatchText(given, 'watch.yaml', {
        overrides: overrides.slice(0, 3),
        comment: [],
      });
      expect(read(text)).toEqual(read(given, ...overrides.slice(0, 3)));
    },
  );

  it('can say these settings and no others, and leaves no empty section', () => {
    const given =
      'watch: { checkInterval: 1m } # a\ncontact: { operateGap: 8mm, releaseGap: 12mm }\n';
    const [first] = overrides;
    if (first === undefined) throw new Error('there is one');
    expect(watchTextSaying(given, [first])).toBe('watch: { checkInterval: 90s } # a\n');
    expect(read(watchTextSaying(starter, []))).toEqual(read(null));
  });
});

describe('the environment of a watch file', () => {
  it('is calm unless something is said', () => {
    const { environment } = read('environment:\n');
    expect(environment).toEqual({
      outages: 1,
      outagesApartMs: 0,
      longestOutageMs: 0,
      powerLosses: 0,
      longestPowerLossMs: 60_000,
      resets: 0,
      longestChatterMs: 0,
    });
  });

  it('holds the budgets of what may go wrong', () => {
    const text =
      'environment: { longestOutage: 1h, outages: 2, outagesApart: 6h, powerLosses: 2, powerLossLasting: 5m, resets: 1, longestChatter: 30s }';
    expect(read(text).environment).toEqual({
      outages: 2,
      outagesApartMs: 21_600_000,
      longestOutageMs: 3_600_000,
      powerLosses: 2,
      longestPowerLossMs: 300_000,
      resets: 1,
      longestChatterMs: 30_000,
    });
  });

  it.each([
    ['no-loss-to-last', 'environment: { powerLossLasting: 1m }'],
    ['no-outage-to-count', 'environment: { outages: 2 }'],
    ['no-outages-to-part', 'environment: { longestOutage: 1h, outagesApart: 6h }'],
    ['no-loss-to-last', 'environment: { powerLosses: 0, powerLossLasting: 1m }'],
    ['out-of-range', 'environment: { powerLosses: 1, powerLossLasting: 0s }'],
    ['out-of-range', 'environment: { powerLosses: 11 }'],
    ['out-of-range', 'environment: { resets: -1 }'],
    ['not-whole', 'environment: { resets: 1.5 }'],
    ['duration-without-unit', 'environment: { longestOutage: 60 }'],
    ['unknown-key', 'environment: { outage: 1h }'],
    ['wrong-type', 'environment: calm'],
  ])('refuses with %s: %s', (code, text) => {
    expect(errorOf(text)).toMatchObject({ code, source: { file: 'watch.yaml', line: 1 } });
  });
});

const lowRegulator =
  'cells: alkaline-aa, series: 2, regulator: { kind: buck, quiescent: 1uA, efficiency: 90%, voltage: 1.8V }';

/** @param cells without them a capacity stands in their place. */
function pulledUp(cells: string): string {
  const source = cells === '' ? 'capacity: 600mAh' : cells;
  return `supply: { ${source}, sleepCurrent: 5uA, contactBias: { resistance: 45kOhm } }\n`;
}

describe('the whole watch file', () => {
  const withoutNulls = (value: unknown): unknown =>
    typeof value === 'object' && value !== null && !Array.isArray(value)
      ? Object.fromEntries(
          Object.entries(value)
            .filter(([, part]) => part !== null)
            .map(([key, part]) => [key, withoutNulls(part)]),
        )
      : value;

  it.each([
    ['the defaults', null],
    ['the starter', starterWatchText()],
    [
      'one with ranges and faults',
      `${file}device: { bootTime: 300ms..500ms, clockError: -2%..2% }\nenvironment: { longestOutage: 1h, outages: 2, powerLosses: 1 }\n`,
    ],
    [
      'one with a contact',
      'contact: { operateGap: 8mm, releaseGap: 12mm }\nwatch: { alertCooldown: PT30M }\n',
    ],
    ['one with a preset', 'supply: { preset: bare-board, capacity: 2000mAh }\n'],
    ['one with a pull-up', pulledUp('')],
    ['one with a pull-up behind a regulator', pulledUp(lowRegulator)],
    ['one whose sections are empty', 'watch:\ncontact:\nsupply:\n'],
  ])('reads back as the same watch: %s', (_, text) => {
    const whole = withoutNulls(wholeWatchFile(text, 'watch.yaml'));
    expect(read(JSON.stringify(whole))).toEqual(read(text));
  });

  it('writes for a pull-up the voltage of the regulator, and the usual one without a regulator', () => {
    const voltageOf = (text: string) => wholeWatchFile(text, 'watch.yaml')['supply'];
    expect(voltageOf(pulledUp(lowRegulator))).toMatchObject({ contactBias: { voltage: '1.8V' } });
    expect(voltageOf(pulledUp(''))).toMatchObject({ contactBias: { voltage: '3.3V' } });
  });

  it('writes defaults, overrides and ranges, and null for what is absent', () => {
    const whole = wholeWatchFile(`${file}device: { bootTime: 300ms..500ms }\n`, 'watch.yaml', [
      override('judge.reportWithin', 'PT10M'),
    ]);
    expect(whole).toMatchObject({
      watch: { checkInterval: '2m', recheckInterval: '20s', heartbeatInterval: 'off' },
      device: { bootTime: { min: '300ms', max: '500ms' }, connectTime: '4s' },
      judge: { leaveOpenAfter: '4m', reportWithin: '10m', quietUpTo: null },
      contact: null,
      supply: null,
    });
  });
});
