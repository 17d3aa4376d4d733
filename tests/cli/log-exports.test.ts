// Logs in shapes that no page mentions: a user who types what the errors suggest gets each one in.
import { describe, expect, it } from 'vitest';
import { codesIn, ownFolder, runHere } from './run-here.js';

/** One leave-open of 13 min, from 08:01 to 08:14; anything else is brief. */
const minutes13 = { leaveOpens: 1, reported: 1, missed: 0, unknown: 0 };

interface Export {
  readonly name: string;
  readonly file: string;
  readonly text: string;
  /** Which suggestion of each error is followed; 0 is the first. */
  readonly follow?: readonly number[];
  readonly openings: number;
}

const exports: readonly Export[] = [
  {
    name: 'start and seconds',
    file: 'seconds.csv',
    text: 'opened,duration_s\n2026-05-08T08:01:00,780\n2026-05-08T09:10:00,"25,5"\n',
    openings: 2,
  },
  {
    name: 'start and minutes:seconds, in another language',
    file: 'minutes.csv',
    text: 'Start;Dauer\n08.05.2026 08:01:00;13:00\n08.05.2026 09:10:00;00:25\n',
    follow: [0, 0],
    openings: 2,
  },
  {
    name: 'start and ISO 8601 lengths',
    file: 'iso.ndjson',
    text: '{"start":"2026-05-08T08:01:00Z","duration":"PT13M"}\n{"start":"2026-05-08T09:10:00Z","duration":"PT25S"}\n',
    openings: 2,
  },
  {
    name: 'start and lengths without a unit',
    file: 'no-unit.csv',
    text: 'start,duration,note\n2026-05-08T08:01:00,780,delivery\n2026-05-08T09:10:00,25,\n',
    follow: [0],
    openings: 2,
  },
  {
    name: 'a date that stands only where it changes',
    file: 'date-once.csv',
    text: 'date,time,state\n2026-05-08,08:00:00,closed\n,08:01:00,open\n,08:14:00,closed\n2026-05-09,07:00:00,open\n,07:00:30,closed\n',
    openings: 2,
  },
  {
    name: 'times alone, in a file of one date',
    file: 'door-2026-05-08.csv',
    text: 'time,state\n08:00:00,closed\n08:01:00,open\n08:14:00,closed\n23:59:50,open\n00:00:10,closed\n',
    follow: [0],
    openings: 2,
  },
  {
    name: 'the newest row first',
    file: 'newest.csv',
    text: 'time,state\n2026-05-08T09:00:00Z,closed\n2026-05-08T08:14:00Z,closed\n2026-05-08T08:01:00Z,open\n2026-05-08T07:00:00Z,closed\n',
    follow: [0],
    openings: 1,
  },
  {
    name: 'openings with the newest first',
    file: 'newest-openings.csv',
    text: 'start,end\n2026-05-08T10:00:00Z,2026-05-08T10:00:20Z\n2026-05-08T09:00:00Z,2026-05-08T09:00:20Z\n2026-05-08T08:01:00Z,2026-05-08T08:14:00Z\n',
    follow: [0],
    openings: 3,
  },
  {
    name: 'a mark at the start, quotes, CRLF and decimal commas',
    file: 'decimal.csv',
    text: '\ufeff"Zeit";"Wert"\r\n"1778227200,250";"0"\r\n"1778227260,500";"1"\r\n"1778228040,500";"0"\r\n',
    follow: [0],
    openings: 1,
  },
  {
    name: 'days as spreadsheets count them, with decimal commas',
    file: 'serial.csv',
    text: 'time;state\n46150,25;shut\n46150,26;open\n46150,27;shut\n',
    follow: [0],
    openings: 1,
  },
  {
    name: 'microseconds since 1970',
    file: 'micro.csv',
    text: 'ts,state\n1778227200000000,shut\n1778227260000000,open\n1778228040000000,shut\n',
    openings: 1,
  },
  {
    name: 'nanoseconds since 1970',
    file: 'nano.csv',
    text: 'name,time,value\ndoor,1778227200000000000,0\ndoor,1778227260000000000,1\ndoor,1778228040000000000,0\n',
    openings: 1,
  },
  {
    name: 'words of another language',
    file: 'words.csv',
    text: 'aika,tila\n2026-05-08T08:00:00Z,kiinni\n2026-05-08T08:01:00Z,auki\n2026-05-08T08:14:00Z,kiinni\n',
    follow: [0, 1],
    openings: 1,
  },
  {
    name: 'attributes as JSON in a field',
    file: 'attributes.csv',
    text: 'time,attributes\n2026-05-08T08:00:00Z,"{""contact"":true,""rssi"":-60}"\n2026-05-08T08:01:00Z,"{""contact"":false,""rssi"":-61}"\n2026-05-08T08:14:00Z,"{""contact"":true,""rssi"":-60}"\n',
    openings: 1,
  },
  {
    name: 'a payload that is JSON in a text',
    file: 'payload.ndjson',
    text: '{"time":1778227200,"payload":"{\\"contact\\":true}"}\n{"time":1778227260,"payload":"{\\"contact\\":false}"}\n{"time":1778228040,"payload":"{\\"contact\\":true}"}\n',
    openings: 1,
  },
  {
    name: 'a list inside an object',
    file: 'wrapped.json',
    text: '{"device":"hatch",\n"events":[{"t":1778227200,"open":false},{"t":1778227260,"open":true},{"t":1778228040,"open":false}]}\n',
    follow: [0],
    openings: 1,
  },
  {
    name: 'a line that names the separator, and accents',
    file: 'sep.csv',
    text: 'sep=;\r\n"Date";"Heure";"Etat"\r\n"13/05/2026";"08:00";"fermé"\r\n"13/05/2026";"08:01";"ouvert"\r\n"13/05/2026";"08:14";"fermé"\r\n',
    follow: [0, 1],
    openings: 1,
  },
  {
    name: 'answers to a question',
    file: 'yes.csv',
    text: 'Timestamp,Door Open\n2026-05-08 08:00,No\n2026-05-08 08:01,Yes\n2026-05-08 08:14,No\n',
    follow: [0, 0],
    openings: 1,
  },
  {
    name: 'bars, and a name that says nothing',
    file: 'bars.txt',
    text: 'time|state\n2026-05-08T08:00:00Z|shut\n2026-05-08T08:01:00Z|open\n2026-05-08T08:14:00Z|shut\n',
    follow: [0],
    openings: 1,
  },
  {
    name: 'names and values with an equals sign',
    file: 'pairs.log',
    text: 'time="2026-05-08 08:00:00" door=shut rssi=-60\ntime="2026-05-08 08:01:00" door=open rssi=-60\ntime="2026-05-08 08:14:00" door=shut rssi=-61\n',
    follow: [0],
    openings: 1,
  },
  {
    name: 'a time, then names and values',
    file: 'timed-pairs.txt',
    text: '[2026-05-08 08:00:00] door=shut\n[2026-05-08 08:01:00] door=open\n[2026-05-08 08:14:00] door=shut\n',
    follow: [0],
    openings: 1,
  },
  {
    name: 'a time, then a sentence',
    file: 'sentences.log',
    text: '2026-05-08 08:00:00 Hatch shut\n2026-05-08 08:01:00 Hatch opened\n2026-05-08 08:14:00 Hatch shut\n',
    follow: [0, 0],
    openings: 1,
  },
  {
    name: 'columns of a fixed width',
    file: 'fixed.csv',
    text: 'time                 state\n2026-05-08 08:00:00  shut\n2026-05-08 08:01:00  open\n2026-05-08 08:14:00  shut\n',
    openings: 1,
  },
  {
    name: 'a table framed with bars',
    file: 'table.md',
    text: '| time | state |\n|---|---|\n| 2026-05-08 08:00 | shut |\n| 2026-05-08 08:01 | open |\n| 2026-05-08 08:14 | shut |\n',
    follow: [0],
    openings: 1,
  },
  {
    name: 'lists in a list, with a row of names',
    file: 'lists.json',
    text: '[["time","state"],\n["2026-05-08T08:00:00Z","shut"],["2026-05-08T08:01:00Z","open"],\n["2026-05-08T08:14:00Z","shut"]]\n',
    openings: 1,
  },
  {
    name: 'a list a line, without names',
    file: 'lists.ndjson',
    text: '["2026-05-08T08:00:00Z",0,null]\n["2026-05-08T08:01:00Z",1,"a, \\"b\\""]\n["2026-05-08T08:14:00Z",0,null]\n',
    openings: 1,
  },
  {
    name: 'a list for each column',
    file: 'columns.json',
    text: '{"device":"hatch","time":[1778227200,1778227260,1778228040],"state":[0,1,0]}',
    openings: 1,
  },
  {
    name: 'a state for each time',
    file: 'keyed.json',
    text: '{"2026-05-08T08:00:00Z":"shut","2026-05-08T08:01:00Z":"open","2026-05-08T08:14:00Z":"shut"}',
    openings: 1,
  },
  {
    name: 'the end and how long it was open',
    file: 'at-close.csv',
    text: 'closed_at,open_seconds\n2026-05-08T08:14:00Z,780\n2026-05-08T09:10:25Z,25\n',
    openings: 2,
  },
  {
    name: 'a column for each door',
    file: 'wide.csv',
    text: 'time,store,hatch\n2026-05-08T08:00:00Z,0,0\n2026-05-08T08:01:00Z,0,1\n2026-05-08T08:14:00Z,0,0\n',
    follow: [1],
    openings: 1,
  },
  {
    name: 'events of other kinds among the states',
    file: 'events.csv',
    text: 'when,event_type\n2026-05-08T08:00:00Z,door_shut\n2026-05-08T08:01:00Z,door_opened\n2026-05-08T08:10:00Z,battery_low\n2026-05-08T08:14:00Z,door_shut\n',
    follow: [0, 0, 1],
    openings: 1,
  },
  {
    name: 'days as spreadsheets count them, below names that mean nothing',
    file: 'serial-names.csv',
    text: 'A;B\n46150,25;zu\n46150,25069444;auf\n46150,25972222;zu\n',
    follow: [0, 1],
    openings: 1,
  },
  {
    name: 'one column beside the time, with values that are no words',
    file: 'symbols.csv',
    text: 'time,reading\n2026-05-08T08:00:00Z,[]\n2026-05-08T08:01:00Z,<>\n2026-05-08T08:14:00Z,[]\n',
    follow: [0, 1],
    openings: 1,
  },
];

/** The command lines that an error suggests, as their words. */
function suggestedIn(stderr: string): readonly (readonly string[])[] {
  return [...stderr.matchAll(/^ +try: +(?:npx )?dozewatch (.*)$/gmu)].map(([, line = '']) =>
    [...line.matchAll(/"([^"]*)"|'([^']*)'|(\S+)/gu)].map(([word, a, b]) => a ?? b ?? word),
  );
}

describe('a log that no page mentions', () => {
  it.each(exports)('is read by what its errors suggest: $name', async (one) => {
    const folder = ownFolder({ [one.file]: one.text });
    let args: readonly string[] = ['replay', one.file, '--no-config', '--json'];
    for (const choice of one.follow ?? []) {
      const refused = await runHere(folder, [...args]);
      expect(refused.status, refused.stderr).toBe(2);
      const next = suggestedIn(refused.stderr)[choice];
      if (next === undefined) throw new Error(`nothing is suggested: ${refused.stderr}`);
      args = next;
    }
    const ran = await runHere(folder, [...args]);
    expect(ran.stderr).not.toContain('error:');
    const [replay] = JSON.parse(ran.stdout).replays;
    expect(replay.summary).toMatchObject({ ...minutes13, openings: one.openings });
  });

  it('is refused with the reason if nothing in it can be settled', async () => {
    const files = {
      'no-date.csv': 'time,state\n08:00:00,closed\n08:01:00,open\n08:14:00,closed\n',
      'summary.csv':
        'time,state\n2026-05-08T08:00:00Z,shut\n2026-05-08T08:14:00Z,open\nTotal: 2,\n',
      'no-header.csv': '2026-05-08T08:00:00Z,shut\n2026-05-08T08:01:00Z,open\n',
      'spaces.csv':
        'time   state volts\n2026-05-08T08:00:00Z shut 3\n2026-05-08T08:01:00Z open 3\n',
      'units.csv':
        'time,state\n(UTC),(text)\n2026-05-08T08:00:00Z,shut\n2026-05-08T08:01:00Z,open\n',
    };
    const folder = ownFolder(files);
    const hintOf = async (file: string): Promise<string> => {
      const { status, stderr } = await runHere(folder, ['replay', file, '--no-config']);
      expect(status).toBe(2);
      return stderr.replaceAll(/\s+/gu, ' ');
    };
    expect(await hintOf('no-date.csv')).toContain('as in --date 2026-05-08');
    expect(await hintOf('summary.csv')).toContain('head -n 3 summary.csv |');
    expect(await hintOf('no-header.csv')).toContain('(echo time,state; cat no-header.csv) |');
    expect(await hintOf('spaces.csv')).toContain("sed -E 's/ +/,/g' spaces.csv |");
    expect(await hintOf('units.csv')).toContain('sed 2d units.csv |');
  });
});

describe('a log with the same error in each row', () => {
  it('is refused with one error that says so', async () => {
    const text = 'time,state\nMon 8.5. 08:00,shut\nMon 8.5. 08:01,open\nMon 8.5. 08:14,shut\n';
    const folder = ownFolder({ 'odd.csv': text });
    const { status, stderr } = await runHere(folder, ['replay', 'odd.csv', '--no-config']);
    expect([status, stderr.match(/^error: /gmu)]).toEqual([2, ['error: ']]);
    expect(stderr).toContain('all 3 rows');
  });
});

describe('a length beside a time and a state', () => {
  it('does not make the rows openings', async () => {
    const text =
      'time,state,open,duration\n2026-05-08T08:01:00Z,open,1,\n2026-05-08T08:14:00Z,shut,0,780\n';
    const folder = ownFolder({ 'both.csv': text });
    const { stdout } = await runHere(folder, ['replay', 'both.csv', '--no-config', '--json']);
    expect(JSON.parse(stdout).replays[0].openings).toMatchObject([{ durationMs: 780_000 }]);
  });
});

describe('a log whose newest row comes first', () => {
  const last =
    'time,state\n2026-10-25 02:40:00,shut\n2026-10-25 02:10:00,shut\n2026-10-25 02:50:00,open\n';

  it('takes the readings of a doubled hour in the order of time', async () => {
    const folder = ownFolder({ 'night.csv': last });
    const args = ['replay', 'night.csv', '--no-config', '--zone', 'Europe/Oslo', '--newest-first'];
    const { stdout } = await runHere(folder, [...args, '--json']);
    const [{ openings }] = JSON.parse(stdout).replays;
    expect(openings).toMatchObject([{ durationMs: 20 * 60_000 }]);
  });

  it('is an error at the row that does not fit, with that row’s line', async () => {
    const text =
      'time,state\n2026-05-08T09:00:00Z,shut\n2026-05-08T08:00:00Z,shut\n2026-05-08T08:30:00Z,open\n';
    const folder = ownFolder({ 'odd.csv': text });
    const { status, stderr } = await runHere(folder, ['replay', 'odd.csv', '--newest-first']);
    expect(status).toBe(2);
    expect(stderr).toMatch(/^error: odd\.csv:3:1: .*\[row-goes-back\]$/mu);
  });
});

describe('dates without a year', () => {
  const text =
    'time,state\nMon Dec 28 23:50:00,open\nMon Dec  28 23:52:00,shut\n2 Jan 06:00:30,open\nJan. 2 06:01:00,shut\n';

  it('are refused with the option that gives it', async () => {
    const folder = ownFolder({ 'doors.csv': text });
    const args = ['replay', 'doors.csv', '--no-config'];
    const refused = await runHere(folder, args);
    expect([refused.status, codesIn(refused.stderr)]).toEqual([2, ['log-time-unreadable']]);
    const [, option = ''] = /(--date \S+)/u.exec(refused.stderr) ?? [];
    expect((await runHere(folder, [...args, ...option.split(' ')])).status).not.toBe(2);
  });

  it('have the year of the first row until a month is much earlier', async () => {
    const folder = ownFolder({ 'doors.csv': text });
    const args = ['replay', 'doors.csv', '--no-config', '--date', '2026-12-28', '--json'];
    const [{ start, openings, repairs }] = JSON.parse((await runHere(folder, args)).stdout).replays;
    expect(start).toBe('2026-12-28T23:50:00.000+00:00');
    expect(openings).toMatchObject([
      { fromMs: 0 },
      { fromMs: (4 * 24 + 6 + 1 / 6) * 3_600_000 + 30_000 },
    ]);
    expect(repairs).toContainEqual(expect.objectContaining({ code: 'dates-counted' }));
  });

  it('are counted down where the newest row is first', async () => {
    const rows = text.trimEnd().split('\n');
    const newest = [rows[0], ...rows.slice(1).toReversed()].join('\n');
    const folder = ownFolder({ 'doors.csv': `${newest}\n` });
    const args = [
      'replay',
      'doors.csv',
      '--no-config',
      '--newest-first',
      '--date',
      '2027-01-02',
      '--json',
    ];
    const [{ start }] = JSON.parse((await runHere(folder, args)).stdout).replays;
    expect(start).toBe('2026-12-28T23:50:00.000+00:00');
  });
});

describe('times without a date', () => {
  it('begin a new day at a time much earlier than the one above it, and the output says how often', async () => {
    const text =
      'time,state\n22:00,shut\n23:50,open\n00:10,shut\n21:00,open\n21:01,shut\n06:00,shut\n';
    const folder = ownFolder({ 'times.csv': text });
    const args = ['replay', 'times.csv', '--no-config', '--date', '2026-05-08'];
    const { stdout } = await runHere(folder, [...args, '--json']);
    const [{ openings, lengthMs, repairs }] = JSON.parse(stdout).replays;
    expect(openings).toMatchObject([{ durationMs: 1_200_000 }, { durationMs: 60_000 }]);
    expect(lengthMs).toBe(32 * 3_600_000);
    expect(repairs).toContainEqual(expect.objectContaining({ code: 'dates-counted' }));
  });

  it('are refused if a row is a little earlier than the one above it', async () => {
    const folder = ownFolder({ 'times.csv': 'time,state\n22:00,shut\n22:50,open\n22:10,shut\n' });
    const { status, stderr } = await runHere(folder, [
      'replay',
      'times.csv',
      '--date',
      '2026-05-08',
    ]);
    expect(status).toBe(2);
    expect(stderr).toContain('[row-goes-back]');
  });
});
