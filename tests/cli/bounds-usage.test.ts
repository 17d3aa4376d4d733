// Bad input and usage of `dozewatch bounds`: exit status 2, a code that stays, nothing written.
import { describe, expect, it } from 'vitest';
import { codesIn, filesIn, ownFolder, runHere } from './run-here.js';

const files = {
  'watch.yaml': 'watch: {}\n',
  'other.yaml': 'watch: { checkInterval: 2m }\n',
  'unit.yaml': 'watch: { checkInterval: 3 }\n',
  'contradictory.yaml': 'environment: { powerLosses: 0, powerLossLasting: 1m }\n',
  'upside-down.yaml': 'device: { connectTime: { min: 8s, max: 2s } }\n',
  'upside-down-clock.yaml': 'device: { clockError: { min: 2%, max: -2% } }\n',
  'environment.yaml': 'environment: { floods: 3 }\n',
};

describe('bad input to bounds', () => {
  it.each([
    ['duration-without-unit', ['--interval', '3']],
    ['duration-negative', ['--interval', '-3m']],
    ['duration-unknown-unit', ['--recheck', '3x']],
    ['duration-unreadable', ['--cooldown', '']],
    ['out-of-range', ['--interval', '1ms']],
    ['out-of-range', ['--interval', '400d']],
    ['out-of-range', ['--threshold', '0']],
    ['out-of-range', ['--threshold', '99999999999999']],
    ['open-above-out-of', ['--threshold', '3/2']],
    ['wrong-type', ['--threshold', 'two']],
    ['out-of-range', ['--clear', '11']],
    ['unknown-word', ['--wake-on', 'openings']],
    ['duration-without-unit', ['--leave-open-after', '180']],
    ['duration-unreadable', ['--report-within', '1e3']],
    ['min-above-max', ['--connect-time', '8s..2s']],
    ['min-above-max', ['--boot-time', '1s..1ms']],
    ['min-above-max', ['--clock-error', '2%..-2%']],
    ['out-of-range', ['--clock-error', '-100%']],
    ['range-without-end', ['--connect-time', '2s..']],
    ['duration-without-unit', ['--outage', '60']],
    ['duration-negative', ['--outage', '-1h']],
    ['out-of-range', ['--power-losses', '99']],
    ['out-of-range', ['--power-losses', '-1']],
    ['not-whole', ['--resets', '1.5']],
    ['wrong-type', ['--resets', 'some']],
    ['no-loss-to-last', ['--power-loss-lasting', '1m']],
    ['no-loss-to-last', ['--power-losses', '0', '--power-loss-lasting', '1m']],
    ['out-of-range', ['--power-losses', '1', '--power-loss-lasting', '0s']],
    ['duration-unreadable', ['--chatter', 'long']],
    ['duration-without-unit', ['-c', 'unit.yaml']],
    ['no-loss-to-last', ['-c', 'contradictory.yaml']],
    ['min-above-max', ['-c', 'upside-down.yaml']],
    ['min-above-max', ['-c', 'upside-down-clock.yaml']],
    ['unknown-key', ['-c', 'environment.yaml']],
    ['no-outage-to-count', ['--outages', '2']],
    ['no-outages-to-part', ['--outage', '1h', '--outages-apart', '6h']],
    // Told before a search that would take long.
    ['not-certifiable', ['--wake-on', 'opening', '--chatter', '1s', '--certificate', 'a.json']],
    ['file-missing', ['nowhere.yaml']],
    ['file-is-folder', ['.']],
    ['watch-named-twice', ['-c', 'watch.yaml', 'other.yaml']],
    ['standard-input-twice', ['-', '-']],
    ['one-watch-only', ['watch.yaml', 'other.yaml', '--chart', 'a.svg']],
    ['one-watch-only', ['watch.yaml', 'other.yaml', '--witness', 'wit']],
    ['unknown-picture', ['--chart', 'a.gif']],
    ['output-is-stdout', ['--chart', '-']],
    ['output-is-stdout', ['--witness', '-']],
    ['output-is-input', ['-c', 'other.yaml', '--chart', './other.yaml']],
    ['cannot-write', ['--chart', 'watch.yaml/a.svg']],
    ['cannot-write', ['--witness', 'watch.yaml']],
  ])('is told as %s for %j', async (code, args) => {
    const folder = ownFolder(files);
    const before = filesIn(folder);
    const ran = await runHere(folder, ['bounds', ...args]);
    expect(ran.status).toBe(2);
    expect(codesIn(ran.stderr).at(-1)).toBe(code);
    expect(ran.stdout).toBe('');
    expect(ran.stderr).not.toMatch(/^\s+at .*:\d+:\d+|\bError:/mu);
    expect(filesIn(folder)).toEqual(before);
  });

  it('names the option, what was written, and what to write instead', async () => {
    const { stderr } = await runHere(ownFolder(), ['bounds', '--interval', '3']);
    expect(stderr).toBe(
      [
        'error: --interval: this has no unit [duration-without-unit]',
        '  found:     3',
        '  expected:  a duration such as 400ms, 90s, 3m, 1h30m or 2d',
        '  hint:      write 3s for seconds or 3m for minutes',
        '',
      ].join('\n'),
    );
  });

  it.each([[['--frobnicate']], [['--interval']], [['--width', 'wide']]])(
    'ends with 2 for the command line %j',
    async (args) => {
      const { status, stdout } = await runHere('.', ['bounds', ...args]);
      expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    },
  );

  it('warns of settings that cancel each other, and goes on', async () => {
    const { status, stderr, stdout } = await runHere(ownFolder(), [
      'bounds',
      ...['--interval', '4m', '--threshold', '1', '--recheck', '20s', '--leave-open-after', '3m'],
    ]);
    expect(codesIn(stderr)).toEqual(['recheck-without-effect']);
    expect(stdout).toContain('Data sheet');
    expect(status).toBe(1);
  });
});
