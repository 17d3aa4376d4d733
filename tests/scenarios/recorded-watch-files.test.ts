// Watch files: every setting with values of every kind, files with faults, settings that cancel each other, cells and boards; and
// what is written from them.
import { describe, expect, it } from 'vitest';
import { allSettings, settingAt } from '../../src/model/index.js';
import {
  overlaidWatchText,
  overrideOf,
  parseWatchFile,
  settingLines,
  starterWatchText,
  typedText,
  type WatchOverride,
  watchTextSaying,
  watchWarnings,
  wholeWatchFile,
} from '../../src/scenarios/index.js';
import { brief } from './reading.js';
import { digestOf, expectRecorded, onOneLine, openSentences, plainText } from './recording.js';
import {
  aroundOf,
  oddWatchFiles,
  supplies,
  typedValues,
  typings,
  watchesThatWarn,
} from './watch-texts.js';

type Sentences = ReturnType<typeof openSentences>;

function outcome(
  text: string | null,
  sentences: Sentences,
  {
    file = 'watch.yaml',
    overrides = [],
  }: { file?: string; overrides?: readonly WatchOverride[] } = {},
): string {
  const read = parseWatchFile(text, file, overrides);
  if (!read.ok) return read.errors.map((error) => sentences.brief(error)).join('; ');
  return [digestOf(read.value), ...read.warnings.map((one) => sentences.brief(one))].join('; ');
}

/** Each outcome once, with all that led to it. */
function grouped(outcomes: readonly (readonly [of: string, outcome: string])[]): readonly string[] {
  const groups = new Map<string, string[]>();
  for (const [of, line] of outcomes) groups.set(line, [...(groups.get(line) ?? []), of]);
  return Array.from(groups, ([line, all]) => `  ${all.map((one) => `‹${one}›`).join(' ')} ${line}`);
}

/** The value of a setting in the whole of a file's settings. */
function valueIn(whole: unknown, path: readonly string[]): unknown {
  return path.reduce<unknown>(
    (at, key) => (typeof at === 'object' && at !== null ? Reflect.get(at, key) : undefined),
    whole,
  );
}

/** The codes of what is wrong; of a file that is read, what it says there, its codes, and a short name of the whole. */
function codesIn(
  text: string | null,
  path: readonly string[],
  overrides: readonly WatchOverride[] = [],
): string {
  const read = parseWatchFile(text, 'watch.yaml', overrides);
  if (!read.ok) return read.errors.map(({ code }) => code).join(' ');
  const said = plainText(valueIn(wholeWatchFile(text, 'watch.yaml', overrides), path));
  return [said, digestOf(read.value), ...read.warnings.map(brief)].join(' ');
}

/** Of the first setting of a kind every text is tried; of others, one of each outcome. */
function openTexts(all: readonly string[]) {
  const ofKind = new Map<string, readonly string[]>();
  return {
    of: (kind: string): readonly string[] => ofKind.get(kind) ?? all,
    learn(kind: string, outcomes: readonly (readonly [of: string, outcome: string])[]): void {
      const first = new Map(outcomes.toReversed().map(([text, line]) => [line, text]));
      if (!ofKind.has(kind)) ofKind.set(kind, [...first.values()].toReversed());
    },
  };
}

describe('a setting of a watch file', () => {
  it('is read or refused as before, in a file and as an option', () => {
    const values = openTexts(typedValues);
    const typed = openTexts(typings);
    const lines = allSettings.flatMap((setting) => {
      const { path, row } = setting;
      const inFile = values
        .of(row.kind)
        .map((value) => [value, codesIn(aroundOf(path, value), path)] as const);
      const around = aroundOf(path, null);
      const asOption = typed.of(row.kind).map((text) => {
        return [text, codesIn(around, path, [overrideOf(setting, text, '--it')])] as const;
      });
      values.learn(row.kind, inFile);
      typed.learn(row.kind, asOption);
      const name = `${path.join('.')} (${row.kind})`;
      return [name, ...grouped(inFile), '  as an option', ...grouped(asOption)];
    });
    expectRecorded('watch-settings', lines);
  });

  it('that is typed is written as a text that means the same', () => {
    const lines = allSettings.map(({ path, row: { kind } }) => {
      const texts = typings.map((typed) => {
        const setting = settingAt(path.join('.'));
        const value = setting && overrideOf(setting, typed, '--option').value;
        return `${typed} → ${typedText(value, kind)}`;
      });
      return `${kind}: ${texts.filter((text) => text.split(' → ')[0] !== text.split(' → ')[1]).join(' | ')}`;
    });
    expectRecorded('watch-typed', [...new Set(lines)]);
  });

  it('that is put into a file means there what it means as an option', () => {
    const written: string[] = [];
    for (const setting of allSettings) {
      const around = `# mine\n${aroundOf(setting.path, null) ?? ''}# the end\n`;
      for (const typed of typings) {
        const override = overrideOf(setting, typed, '--option');
        const asOption = parseWatchFile(around, 'watch.yaml', [override]);
        if (!asOption.ok) continue;
        const on = { overrides: [override], comment: ['put  together', 'by hand'] };
        const text = overlaidWatchText(around, 'watch.yaml', on);
        const inFile = parseWatchFile(text, 'watch.yaml');
        expect(inFile.ok && inFile.value, `${setting.key} ${typed}`).toEqual(asOption.value);
        const json = overlaidWatchText(null, 'watch.json', { overrides: [override], comment: [] });
        const only = watchTextSaying(around, [override]);
        written.push(digestOf([text, json, only]), text, `only: ${only}`);
        break;
      }
    }
    expectRecorded('watch-written', written);
  });
});

describe('a watch file', () => {
  it.each([
    ['faults', oddWatchFiles],
    ['supplies', supplies],
    ['warnings', watchesThatWarn()],
  ])('is read or refused as before: %s', (name, files) => {
    const sentences = openSentences();
    const lines = files.flatMap(({ text, file = 'watch.yaml' }) => {
      const read = parseWatchFile(text, file);
      const supply = read.ok && name === 'supplies' ? ` ${plainText(read.value.supply)}` : '';
      const warnings = read.ok ? watchWarnings(read.value).map(({ code }) => code) : [];
      const whole = read.ok ? digestOf(wholeWatchFile(text, file)) : '';
      return [
        `${file === 'watch.yaml' ? '' : `${file}: `}${onOneLine(text)}`,
        `  ${outcome(text, sentences, { file })} ${whole} ${warnings.join(' ')}${supply}`.trimEnd(),
      ];
    });
    expectRecorded(`watch-${name}`, [...lines, ...sentences.list()]);
  });

  it('takes options in place of its own settings, and what they switch off goes', () => {
    const sentences = openSentences();
    const file = `watch: { checkInterval: 3m } # mine
environment: { longestOutage: 1h, outages: 2, outagesApart: 5m, powerLosses: 2, powerLossLasting: 2m }
`;
    const options: readonly (readonly [string, string])[][] = [
      [['environment.longestOutage', '0s']],
      [['environment.longestOutage', '0']],
      [['environment.longestOutage', '0.5h']],
      [['environment.longestOutage', '00.0 h']],
      [
        ['environment.longestOutage', '0 min'],
        ['environment.outages', '3'],
      ],
      [['environment.powerLosses', '0']],
      [
        ['environment.powerLosses', '0.0'],
        ['environment.powerLossLasting', '1m'],
      ],
      [
        ['watch.checkInterval', '10s'],
        ['watch.checkInterval', '20s'],
      ],
      [
        ['watch.retry.attempts', '1'],
        ['watch.retry.interval', '9m'],
      ],
      [['watch.escalationThreshold', '2 of 5']],
      [['watch.escalationThreshold', '5 out of 2']],
      [['judge.quietUpTo', '10m']],
      [
        ['device.clockError', '-2% .. 2%'],
        ['device.bootTime', '1s..2s'],
      ],
      [
        ['contact.operateGap', '9'],
        ['contact.releaseGap', '5mm'],
      ],
    ];
    const lines = options.flatMap((given) => {
      const overrides = given.flatMap(([key, text]) => {
        const setting = settingAt(key);
        return setting === undefined ? [] : [overrideOf(setting, text, '--it')];
      });
      const on = { overrides, comment: [] };
      return [
        JSON.stringify(given),
        `  ${outcome(file, sentences, { overrides })}`,
        ...overlaidWatchText(file, 'watch.yaml', on)
          .trimEnd()
          .split('\n')
          .map((line) => `  | ${line}`),
        ...settingLines(overrides).map((line) => `  = ${line}`),
        `  ${outcome(null, sentences, { overrides })}`,
      ];
    });
    expectRecorded('watch-options', [...lines, ...sentences.list()]);
  });

  it('that is wrong as an option says so in words of options', () => {
    const sentences = openSentences();
    const lines = allSettings.flatMap((setting) => {
      const around = aroundOf(setting.path, null);
      const flag = setting.row.option?.flags.replace(/ .*/u, '') ?? `--${setting.key}`;
      return ['x', '-1', '0', '99999999d', '{}', '2s..1s', '500%', '1h'].map((typed) => {
        const overrides = [overrideOf(setting, typed, flag)];
        return `${typed} ${outcome(around, sentences, { overrides })}`;
      });
    });
    expectRecorded('watch-option-faults', [...new Set(lines), ...sentences.list()]);
  });

  it('keeps what it does not change where settings are put into it', () => {
    const files = [
      '# head\nwatch:\n  checkInterval: 2m # two\n  # a line\n  clearThreshold: 2\n\n\ndevice: { bootTime: 1s } # end\n',
      'watch:\njudge: ~\n',
      'watch: { checkInterval: 2m, retry: { attempts: 2 } }\n',
      'watch:\n  retry:\n    attempts: 2 # twice\n    interval: 1m\n',
      'watch:\n  escalationThreshold:\n    open: 2 # two\n    outOf: 3\n',
      '$schema: ./w.json\nsupply:\n  capacity: 1Ah\n  sleepCurrent: 1uA\n  derating:\n    - { celsius: 0, share: 50% }\n  celsius: 3\n',
      '\ufeffdevice:\n  clockError: "1%"\n  bootTime: \'2s\'\n',
      'environment: { longestOutage: 1h, outages: 2 }\n',
      '{}\n',
      '{"watch": {"checkInterval": "3m"}, "device": null}\n',
    ];
    const changes: readonly (readonly (readonly [key: string, text: string])[])[] = [
      [['watch.checkInterval', '90s']],
      [
        ['watch.clearThreshold', '3'],
        ['watch.afterAlert', 'hold-until-reset'],
      ],
      [['watch.retry.attempts', '4']],
      [['watch.escalationThreshold', '4']],
      [['watch.escalationThreshold', '2/4']],
      [
        ['device.bootTime', '1s..2s'],
        ['device.clockError', '-1%..1%'],
      ],
      [
        ['supply.celsius', '7'],
        ['supply.derating', '0C: 40%, 9C: 90%'],
      ],
      [['environment.longestOutage', '0s']],
      [
        ['watch.heartbeatInterval', 'off'],
        ['watch.lowBattery.at', '20%'],
      ],
      [],
    ];
    const lines = files.flatMap((text) =>
      changes.flatMap((change) => {
        const overrides = change.flatMap(([key, typed]) => {
          const setting = settingAt(key);
          return setting === undefined ? [] : [overrideOf(setting, typed, '--it')];
        });
        const on = { overrides, comment: ['a  b', 'c\td'] };
        return [
          overlaidWatchText(text, 'watch.yaml', on),
          ...(text.startsWith('{') ? [`json ${overlaidWatchText(text, 'watch.JSON', on)}`] : []),
          `only ${watchTextSaying(text, overrides)}`,
          plainText(wholeWatchFile(text, 'watch.yaml', overrides)).slice(0, 400),
        ].map(onOneLine);
      }),
    );
    expectRecorded('watch-edits', lines);
  });

  it('to begin with has no fault, and what it says is kept', () => {
    const sentences = openSentences();
    expectRecorded('watch-starter', [
      outcome(starterWatchText(), sentences),
      starterWatchText(),
      plainText(wholeWatchFile(null, 'watch.yaml')),
    ]);
  });
});
