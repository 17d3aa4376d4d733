// `dozewatch rig` from options to exit status, report and files, in this process.
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { codesIn, filesIn, ownFolder, runHere } from './run-here.js';

const environment = { PATH: process.env['PATH'] ?? '' };
const files = {
  'sound.c': readFileSync(path.resolve('tests', 'firmware', 'default-watch.c')),
  'day.yaml': `name: A day of the goose-house hatch
start: 2026-05-08T06:00:00+02:00
length: 6h
door: [ at 08:00 for 25m, at 10:00 for 30s ]
`,
};

describe('a firmware that does what the watch does', () => {
  it('gets the verdict, the report and the status of a replay', async () => {
    const folder = ownFolder(files);
    const ran = await runHere(folder, ['rig', 'sound.c', 'day.yaml'], { environment });
    const replayed = await runHere(folder, ['replay', 'day.yaml']);
    expect(ran.stderr).toBe('');
    expect(ran.stdout).toMatch(/^ {2}watch file +none given, so the defaults apply$/mu);
    expect(ran.status).toBe(0);
    expect(ran.stdout).toMatch(/^ {2}firmware +sound\.c$/mu);
    // Nothing is proved of a firmware.
    const withoutProof = replayed.stdout.replace(/ Proved: .*\.$/mu, '');
    const next =
      '\nThis one timeline proves nothing about others.\n' +
      'Next: look for one that breaks a requirement: dozewatch rig sound.c --hunt\n';
    expect(ran.stdout.replace(/^ {2}firmware.*\n {2}word size.*\n/mu, '')).toBe(
      withoutProof + next,
    );
  });

  it('gives the same JSON, and what became of the firmware', async () => {
    const folder = ownFolder(files);
    const args = ['day.yaml', '--json'];
    const ran = await runHere(folder, ['rig', 'sound.c', ...args], { environment });
    const replayed = await runHere(folder, ['replay', ...args]);
    const verdict = JSON.parse(replayed.stdout);
    const firmware = { file: 'sound.c', wordBits: 64, failure: null, printedBytes: 0, printed: '' };
    // Nothing is proved of a firmware.
    const replays = [{ ...verdict.replays[0], proved: null, firmware }];
    expect(JSON.parse(ran.stdout)).toEqual({ ...verdict, replays });
  });

  it('is drawn and traced', async () => {
    const folder = ownFolder(files);
    const args = ['rig', 'sound.c', 'day.yaml', '--chart', 'day.svg', '--trace', 'wakes.ndjson'];
    expect((await runHere(folder, args, { environment })).status).toBe(0);
    expect(readFileSync(path.join(folder, 'day.svg'), 'utf8')).toContain('goose-house');
    const [first] = readFileSync(path.join(folder, 'wakes.ndjson'), 'utf8').split('\n');
    expect(JSON.parse(first ?? '')).toMatchObject({
      cause: 'power-on',
      entryMs: 400,
      ends: 'asleep',
    });
  });
});

describe('a firmware that cannot be run', () => {
  it('for want of a compiler ends with 2, and says how to get one', async () => {
    const folder = ownFolder(files);
    const { status, stderr } = await runHere(folder, ['rig', 'sound.c', 'day.yaml'], {
      environment: { ...environment, CC: 'no-such-compiler' },
    });
    expect(status).toBe(2);
    expect(codesIn(stderr)).toEqual(['no-compiler']);
    expect(stderr).toContain('apt install gcc');
  });

  it.each(['gcc -fsanitize=address', 'gcc -O2 -fsanitize=undefined,thread'])(
    'by %s is refused with the option',
    async (compiler) => {
      const { status, stderr } = await runHere(ownFolder(files), ['rig', 'sound.c', 'day.yaml'], {
        environment: { ...environment, CC: compiler },
      });
      expect([status, ...codesIn(stderr)]).toEqual([2, 'compiler-option-unfit']);
      expect(stderr).toContain('-fsanitize=');
    },
  );

  it('because it does not compile ends with 2, and shows what the compiler says', async () => {
    const folder = ownFolder({ ...files, 'typo.c': 'void dw_wake(int) { return 1 +; }\n' });
    const { status, stderr } = await runHere(folder, ['rig', 'typo.c', 'day.yaml'], {
      environment,
    });
    expect(status).toBe(2);
    expect(stderr).toContain('typo.c:1');
    expect(stderr.replaceAll(/\s+/gu, '')).toContain(path.resolve('assets', 'rig'));
    expect(codesIn(stderr)).toEqual(['does-not-compile']);
  });

  it('because a part of it lies in another file ends with 2, and says how to take that in', async () => {
    const text =
      '#include "dozewatch_rig.h"\nvoid other(void);\nvoid dw_wake(dw_cause c) { (void)c; other(); dw_sleep_ms(60000); }\n';
    const { status, stderr } = await runHere(
      ownFolder({ ...files, 'part.c': text }),
      ['rig', 'part.c', 'day.yaml'],
      { environment },
    );
    expect(status).toBe(2);
    expect(codesIn(stderr)).toEqual(['does-not-compile']);
    expect(stderr).toContain('name all source files');
  });

  it('without a timeline, or without an ending that tells its language, ends with 2', async () => {
    const folder = ownFolder({ ...files, firmware: '' });
    const alone = await runHere(folder, ['rig', 'sound.c'], { environment });
    expect(codesIn(alone.stderr)).toEqual(['no-timeline']);
    const bare = await runHere(folder, ['rig', 'day.yaml'], { environment });
    expect(codesIn(bare.stderr)).toEqual(['no-firmware']);
    const first = await runHere(folder, ['rig', 'day.yaml', 'sound.c', '--all'], { environment });
    expect(codesIn(first.stderr)).toEqual(['firmware-not-first']);
    expect(first.stderr).toContain('dozewatch rig sound.c day.yaml --all');
    const missing = await runHere(folder, ['rig', 'none.c', 'day.yaml'], { environment });
    expect(codesIn(missing.stderr)).toEqual(['file-missing']);
    const unknown = await runHere(folder, ['rig', 'firmware', 'day.yaml'], { environment });
    expect(codesIn(unknown.stderr)).toEqual(['unknown-format']);
  });

  it('shows warnings as the compiler gives them', async () => {
    const text =
      '#include "dozewatch_rig.h"\nvoid dw_wake(dw_cause c) { int unused; dw_sleep_ms(60000 + c); }\n';
    const folder = ownFolder({ ...files, 'warned.c': text });
    const { stderr } = await runHere(folder, ['rig', 'warned.c', 'day.yaml'], { environment });
    expect(stderr).toMatch(/warned\.c:2:\d+: warning: unused variable/u);
  });
});

const faulty = `#include "dozewatch_rig.h"
static int open_checks; /* ordinary memory: gone with each sleep */
void dw_wake(dw_cause cause)
{
    (void)cause;
    if (dw_contact_is_open()) open_checks += 1;
    if (open_checks >= 2) dw_send_alert("open");
    dw_sleep_ms(120000);
}
`;

describe('a suite on the rig', () => {
  it('holds each scenario to its own expectations, and fails where the firmware breaks', async () => {
    const folder = ownFolder({
      ...files,
      'suite/day.yaml': files['day.yaml'],
      'broken.c': '#include "dozewatch_rig.h"\nvoid dw_wake(dw_cause cause) { (void)cause; }\n',
    });
    const sound = await runHere(folder, ['rig', 'sound.c', '--suite', 'suite'], { environment });
    expect(sound.status).toBe(0);
    const broken = await runHere(folder, ['rig', 'broken.c', '--suite', 'suite'], { environment });
    expect(broken.status).toBe(1);
  });
});

describe('an expectation that is not met', () => {
  const eventful = `name: A day with an outage
start: 2026-05-08T06:00:00+02:00
length: 12h
door: [ at 08:00 for 25m, at 09:00 for 2m30s, at 10:00 for 70m, at 13:00 for 4m ]
network: [{ down: "08:02", for: 10m }, { down: "13:00", for: 5h }]
`;
  /** A suite of one scenario for each expectation. */
  const suiteOf = (expectations: readonly string[]): Record<string, string> =>
    Object.fromEntries(
      expectations.map((one, index) => [
        `suite/${String(index)}.yaml`,
        `${eventful}expect: { ${one} }\n`,
      ]),
    );
  const judged = async (firmware: string | Buffer, given: Readonly<Record<string, string>>) => {
    const folder = ownFolder({ 'fw.c': firmware, ...given });
    const args = ['rig', 'fw.c', '--suite', 'suite', '--json'];
    const { stdout } = await runHere(folder, args, { environment });
    const scenarios: { outcome: string; reasons: string[]; unmet: { name: string }[] }[] =
      JSON.parse(stdout).scenarios;
    return scenarios;
  };
  const next = (reasons: readonly string[]): string => reasons.at(-1) ?? '';

  it('is no fault of a firmware that does what the watch does, whatever is expected', async () => {
    const folder = ownFolder({ 'day.yaml': eventful });
    const replayed = await runHere(folder, ['replay', 'day.yaml', '--json']);
    const { summary } = JSON.parse(replayed.stdout).replays[0];
    const counts = [
      ...['openings', 'leaveOpens', 'reported', 'missed', 'undecided', 'alerts'],
      ...['falseAlarms', 'earlyAlerts', 'repeats', 'checks'],
    ];
    const wrong = counts.flatMap((name) => {
      const got: number = summary[name] ?? 0;
      return [`${name}: ${String(got + 1)}`, ...(got > 0 ? [`${name}: ${String(got - 1)}`] : [])];
    });
    const all = [
      ...wrong,
      'worstDelayAtMost: 1m',
      'worstDelayAtLeast: 11h',
      'undelivered: 9',
      'missed: 0, alerts: 90',
    ];
    const scenarios = await judged(files['sound.c'], suiteOf(all));
    expect(scenarios).toHaveLength(all.length);
    for (const { outcome, reasons } of scenarios) {
      expect(outcome).toBe('failed');
      expect(reasons.join('\n')).toMatch(/^So this comes from the .*, not from this firmware\.$/mu);
      expect(next(reasons)).toMatch(/^Next: .*dozewatch (?:bounds|replay suite\/\d+\.yaml)$/u);
    }
  });

  it('is one of the firmware where the machine meets it, or some other that the firmware fails', async () => {
    const [met, both] = await judged(faulty, suiteOf(['missed: 1', 'missed: 1, openings: 9']));
    expect(met?.outcome).toBe('failed');
    expect(next(met?.reasons ?? [])).toContain('--conform');
    expect(both?.unmet.map(({ name }) => name).sort()).toEqual(['missed', 'openings']);
    expect(both?.reasons.join('\n')).toMatch(/^The machine .* either: it gets openings: 4\.$/mu);
    expect(next(both?.reasons ?? [])).toContain('--conform');
  });

  it('is one of the firmware where the machine also fails it, but by less', async () => {
    const [less] = await judged(faulty, suiteOf(['missed: 0']));
    expect(next(less?.reasons ?? [])).toContain('--conform');
  });
});

describe('a hunt on the rig', () => {
  it('finds the mistake, saves a small timeline that shows it, and replays it', async () => {
    const folder = ownFolder({ ...files, 'faulty.c': faulty });
    const args = ['rig', 'faulty.c', '--hunt'];
    const before = filesIn(folder);
    const { status } = await runHere(folder, [...args, '-o', 'found.yaml'], { environment });
    expect(status).toBe(1);
    expect(filesIn(folder)).toEqual([...before, 'found.yaml'].sort());
    const again = ['rig', 'faulty.c', 'found.yaml', '--json'];
    const replayed = await runHere(folder, again, { environment });
    expect(replayed.status).toBe(1);
    expect(JSON.parse(replayed.stdout).replays[0].summary).toMatchObject({
      openings: 1,
      missed: 1,
    });
  });
});

describe('after a correction', () => {
  it.each(['--hunt', '--conform'])(
    'of what %s found, the report has its timeline and then the whole hunt to run',
    async (mode) => {
      const folder = ownFolder({ ...files, 'faulty.c': faulty });
      const args = ['rig', 'faulty.c', mode, '--runs', '30', '--seed', '3'];
      const { stdout } = await runHere(folder, args, { environment });
      const wordsOf = (line: RegExp): string[] =>
        (line.exec(stdout)?.groups?.['words'] ?? '').split(' ');
      const again = wordsOf(/^Again: +dozewatch (?<words>.*)$/mu);
      const whole = wordsOf(/^Next: .* dozewatch (?<words>.*)$/mu);
      writeFileSync(path.join(folder, 'faulty.c'), files['sound.c']);
      const triedBy = async (words: readonly string[]): Promise<[number, number]> => {
        const ran = await runHere(folder, words, { environment });
        return [ran.status, Number(/^Nothing found in (\d+) /u.exec(ran.stdout)?.[1])];
      };
      expect(await triedBy(again)).toEqual([0, 1]);
      expect(await triedBy(whole)).toEqual([0, 30]);
    },
  );
});

describe('a finding about a firmware that sends again and again', () => {
  const again = `#include "dozewatch_rig.h"
DW_RETAINED static int open_checks;
void dw_wake(dw_cause cause) {
  (void)cause;
  open_checks = dw_contact_is_open() ? open_checks + 1 : 0;
  if (open_checks >= 2) dw_send_alert("hatch open");
  dw_sleep_ms(open_checks > 0 ? 40000 : 180000);
}
`;
  const watch =
    'watch: { checkInterval: 3m, recheckInterval: 40s, escalationThreshold: 2, alertCooldown: 20m }\njudge: { leaveOpenAfter: 6m }\n';

  it('pairs its alerts with those of the machine, and its scenario catches it', async () => {
    const folder = ownFolder({ 'again.c': again, 'w.yaml': watch });
    const args = ['rig', 'again.c', '-c', 'w.yaml'];
    const hunted = await runHere(
      folder,
      [...args, '--hunt', '--calm', '--runs', '60', '-o', 'x.yaml'],
      {
        environment,
      },
    );
    expect(hunted.status).toBe(1);
    expect(hunted.stdout).toMatch(/^The firmware decided alert no\. 2 in the wake/mu);
    expect(hunted.stdout).toMatch(/ nearest one, at .*, corresponds to alert no\. 1\.$/mu);
    expect(readFileSync(path.join(folder, 'x.yaml'), 'utf8')).toMatch(/^ {2}alerts: 1$/mu);
    const caught = await runHere(folder, [...args, 'x.yaml'], { environment });
    expect(caught.status).toBe(1);
    expect(caught.stdout).toMatch(/^ {2}alerts: expected exactly 1, got/mu);
    const machine = await runHere(folder, ['replay', 'x.yaml', '-c', 'w.yaml']);
    expect(machine.stdout).toMatch(/^What the scenario expects: all met$/mu);
  });
});

describe('a missed alert of a firmware that checks at other times than the machine', () => {
  const mute = (sleepMs: string): string => `#include "dozewatch_rig.h"
void dw_wake(dw_cause cause) {
  (void)cause;
  dw_sleep_ms(${sleepMs});
}
`;
  const watch =
    'watch: { checkInterval: 5m, recheckInterval: 2m, escalationThreshold: 2 }\njudge: { leaveOpenAfter: 10m }\n';
  const scenario = (forText: string): string =>
    `start: 2026-05-08T06:00:00Z\nlength: 3h\ndoor: [{ at: +1h1m, for: ${forText} }]\n`;

  it.each<[sleepMs: string, openFor: string, lines: readonly RegExp[]]>([
    [
      'dw_contact_is_open() ? 420000 : 420000',
      '20m',
      [
        /^Opening no\. 1: the firmware decided no alert in the wake that began at .*; its check read open\.$/mu,
        /^An alert was due: the machine .* decides it at its own check at .*\. The wake above has the first check of the firmware from then on: the two check at different times by now\.$/mu,
      ],
    ],
    [
      'dw_contact_is_open() ? 920000 : 920000',
      '12m',
      [
        /^Opening no\. 1: the last wake of the firmware was the one that began at /mu,
        /^An alert was due: .*\. From then on the firmware makes no check in this opening\.$/mu,
      ],
    ],
    // Its checks come with those of the machine: there is nothing to explain.
    [
      'dw_contact_is_open() ? 120000 : 300000',
      '20m',
      [/^An alert was due: .* at its own check at [^.]*(?:\.\d)? s\.$/mu],
    ],
  ])('says whose check each instant is, sleeping %s ms', async (sleepMs, openFor, lines) => {
    const folder = ownFolder({
      'mute.c': mute(sleepMs),
      'w.yaml': watch,
      'x.yaml': scenario(openFor),
    });
    const ran = await runHere(folder, ['rig', 'mute.c', 'x.yaml', '-c', 'w.yaml'], {
      environment,
    });
    for (const line of lines) expect(ran.stdout).toMatch(line);
  });
});

describe('a finding that takes more words than a name has room for', () => {
  // What an earlier wake allocated, kept in an array of a retained struct.
  const stale = `#include <stdlib.h>
#include "dozewatch_rig.h"
DW_RETAINED static int *kept;
void dw_wake(dw_cause cause) {
  (void)cause;
  if (dw_contact_is_open()) {
    if (kept) *kept += 1;
    else kept = calloc(1, sizeof *kept);
  }
  dw_sleep_ms(120000);
}
`;

  it('is written with a shorter one, and its scenario shows it again', async () => {
    const folder = ownFolder({ 'stale.c': stale });
    const args = ['rig', 'stale.c'];
    const hunted = await runHere(folder, [...args, '--hunt', '--calm', '-o', 'x.yaml'], {
      environment,
    });
    expect(hunted.status).toBe(1);
    const [, name = ''] =
      /^name: "(.*)"$/mu.exec(readFileSync(path.join(folder, 'x.yaml'), 'utf8')) ?? [];
    expect(name.length).toBe(200);
    expect(name).toMatch(/^Found by a hunt: at \+.* heap .*…$/u);
    const again = await runHere(folder, [...args, 'x.yaml', '--json'], { environment });
    expect(again.status).toBe(1);
    expect(JSON.parse(again.stdout).replays[0].firmware).toMatchObject({
      failure: { kind: 'stale-pointer' },
    });
  });
});

describe('a hunt for what the settings allow', () => {
  it('is not counted as a finding of the firmware', async () => {
    const args = ['rig', 'sound.c', '--hunt', '--runs', '40'];
    const { status, stdout } = await runHere(ownFolder(files), args, { environment });
    expect(status).toBe(0);
    // A timeline may break it several times: no more timelines than were tried.
    const [, some, openings] =
      /In (\d+) of 40 timelines the firmware broke \[reported\] for (?:at least )?(\d+) openings?/u.exec(
        stdout,
      ) ?? [];
    expect(Number(some)).toBeGreaterThan(0);
    expect(Number(some)).toBeLessThan(40);
    expect(Number(openings)).toBeGreaterThanOrEqual(Number(some));
    const json = await runHere(ownFolder(files), [...args, '--json'], { environment });
    expect(JSON.parse(json.stdout)).toMatchObject({
      excused: Number(openings),
      excusedTimelines: Number(some),
    });
    const alone = await runHere(ownFolder(files), ['hunt', '--runs', '40']);
    expect(alone.status).toBe(1);
  });
});

describe('conformance', () => {
  it('is hunted for, and ends with 1 where they differ', async () => {
    const folder = ownFolder({ ...files, 'faulty.c': faulty });
    const hunted = await runHere(folder, ['rig', 'faulty.c', '--conform'], { environment });
    expect(hunted.status).toBe(1);
  });

  it('holds on a timeline on which both decide alike, and says so as JSON', async () => {
    const args = ['rig', 'sound.c', 'day.yaml', '--conform', '--json'];
    const { status, stdout } = await runHere(ownFolder(files), args, { environment });
    expect(status).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({
      schema: 'dozewatch/rig-conform/1',
      timelines: [{ file: 'day.yaml', difference: null }],
    });
  });
});
