// `dozewatch hunt` from options to exit status, report and saved scenario, in this process.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { holeyWatch, sureWatch } from '../support/watch-question.js';
import { codesIn, filesIn, ownFolder, runHere } from './run-here.js';

const files = { 'sure.yaml': sureWatch, 'holey.yaml': holeyWatch };

describe('a hunt that finds nothing', () => {
  it('ends with 0, and says so as JSON', async () => {
    const args = ['hunt', '-c', 'sure.yaml', '--runs', '20', '--with', 'resets', '--json'];
    const folder = ownFolder(files);
    const { status, stdout } = await runHere(folder, args);
    expect([status, filesIn(folder)]).toEqual([0, ['holey.yaml', 'sure.yaml']]);
    expect(JSON.parse(stdout)).toMatchObject({
      schema: 'dozewatch/hunt/1',
      found: false,
      noDifference: false,
      timelines: 20,
      properties: ['reported'],
      adversity: { outages: 0, resets: 3 },
      seed: 1,
      path: null,
      counterexample: null,
    });
  });
});

describe('the line on a proof', () => {
  const after = async (...more: readonly string[]): Promise<string> => {
    const args = ['hunt', '-c', 'sure.yaml', '--runs', '5', ...more];
    const { stdout } = await runHere(ownFolder(files), args);
    return stdout.trimEnd().split('\n').at(-1) ?? '';
  };
  const none = 'A hunt that finds nothing proves nothing.';

  it('carries the faults that were hunted with', async () => {
    expect(await after('--with', 'resets')).toBe(
      `${none} For a proof: dozewatch bounds -c sure.yaml --resets 3`,
    );
    expect(await after('--calm')).toBe(`${none} For a proof: dozewatch bounds -c sure.yaml`);
  });

  it('has fewer faults than were hunted with where one search cannot take all of them, and says so', async () => {
    const text =
      'watch: { recheckInterval: 50s, wakeOn: opening }\njudge: { leaveOpenAfter: 20h }\n';
    const folder = ownFolder({ 'woken.yaml': text });
    const all = ['--with', 'outages,power,resets,chatter'];
    const { stdout } = await runHere(folder, ['hunt', '-c', 'woken.yaml', '--runs', '3', ...all]);
    const [, words = '', line = ''] =
      /For a proof \(([^)]*)\): dozewatch (.*)$/mu.exec(stdout) ?? [];
    expect(words).toContain('fewer faults');
    expect(line).toMatch(/^bounds -c woken\.yaml --outage 1h(?: |$)/u);
    expect(line).not.toContain('--chatter');
    const proof = await runHere(folder, [...line.split(' '), '--json']);
    expect(JSON.parse(proof.stdout).exactness.unknown).toEqual([]);
  });

  it('names the properties that bounds does not prove', async () => {
    expect(await after('--calm', '--property', 'one-alert-per-cooldown')).toBe(
      `${none} bounds does not prove one-alert-per-cooldown. More timelines: dozewatch hunt -c sure.yaml --property one-alert-per-cooldown --calm --runs 50`,
    );
    expect(await after('--calm', '--property', 'reported,one-alert-per-cooldown')).toBe(
      `${none} bounds does not prove one-alert-per-cooldown. For a proof of the others: dozewatch bounds -c sure.yaml`,
    );
  });
});

describe('a hunt that finds a counterexample', () => {
  it('saves a scenario that replays to the same verdict and expects a better one', async () => {
    const folder = ownFolder(files);
    const args = ['hunt', '-c', 'holey.yaml', '--output', 'found.yaml', '--json'];
    const found = await runHere(folder, args);
    const { counterexample } = JSON.parse(found.stdout);
    const written = readFileSync(path.join(folder, 'found.yaml'), 'utf8');
    expect(counterexample).toMatchObject({ file: 'found.yaml', scenario: written });
    const replay = ['replay', counterexample.file, '-c', 'holey.yaml'];
    const again = await runHere(folder, [...replay, '--json']);
    expect(JSON.parse(again.stdout).replays[0].summary).toEqual(counterexample.summary);
    expect(again.status).toBe(1);
    const mended = await runHere(folder, ['replay', counterexample.file, '-c', 'sure.yaml']);
    expect(mended.status).toBe(0);
  });

  it('is found again by the command that it prints', async () => {
    const folder = ownFolder(files);
    const args = ['hunt', '-c', 'sure.yaml', '--with', 'outages', '--seed', '5', '--json'];
    const first = JSON.parse((await runHere(folder, args)).stdout);
    const [, ...words] = first.counterexample.again.split(' ');
    const second = JSON.parse((await runHere(folder, [...words, '--json'])).stdout);
    expect(second.counterexample.openings).toEqual(first.counterexample.openings);
    expect(second.counterexample.lengthMs).toBe(first.counterexample.lengthMs);
    expect([second.seed, second.path]).toEqual([first.seed, first.path]);
  });

  it('writes nothing that was not named', async () => {
    const folder = ownFolder(files);
    const args = ['hunt', '-c', 'holey.yaml'];
    await runHere(folder, args);
    await runHere(folder, [...args, '--output', 'named.yaml']);
    expect(filesIn(folder)).toEqual(['holey.yaml', 'named.yaml', 'sure.yaml']);
  });

  it.each([
    ['in-time', 'judge: { leaveOpenAfter: 3m, reportWithin: 5m }', 'late: 0'],
    ['quiet', 'judge: { leaveOpenAfter: 8m, quietUpTo: 5m }', 'falseAlarms: 0'],
    ['no-false-alarm', 'judge: { leaveOpenAfter: 8m }', 'falseAlarms: 0'],
  ])('expects what %s asks for', async (property, judge, expected) => {
    const watch = `watch: { checkInterval: 3m }\n${judge}\n`;
    const folder = ownFolder({ 'watch.yaml': watch });
    const args = ['hunt', '-c', 'watch.yaml', '--property', property, '--output', 'x.yaml'];
    const { status } = await runHere(folder, args);
    expect(status).toBe(1);
    expect(readFileSync(path.join(folder, 'x.yaml'), 'utf8')).toContain(`expect:\n  ${expected}\n`);
  });

  it('writes down what it drew of the device, and what went wrong around it', async () => {
    const watch = `watch: { checkInterval: 3m, recheckInterval: 20s, unsentWhenShut: drop }
device: { connectTime: { min: 1s, max: 9s }, clockError: { min: -2%, max: 2% } }
judge: { leaveOpenAfter: 4m }
`;
    const folder = ownFolder({ 'watch.yaml': watch });
    const property = ['--property', 'delivered-in-the-end'];
    const args = ['hunt', '-c', 'watch.yaml', ...property, '--output', 'x.yaml', '--json'];
    const found = JSON.parse((await runHere(folder, args)).stdout);
    expect(found.adversity.outages).toBe(2);
    const text = readFileSync(path.join(folder, 'x.yaml'), 'utf8');
    expect(text).toMatch(/environment:\n {2}connectTime: .+\n {2}clockError: /u);
    expect(text).toMatch(/network:\n {2}- \{ down: /u);
    const replay = await runHere(folder, ['replay', 'x.yaml', '-c', 'watch.yaml', '--json']);
    expect(JSON.parse(replay.stdout).replays[0].summary).toEqual(found.counterexample.summary);
  });
});

describe('hunt --mistake', () => {
  it('saves a scenario that the watch meets and the faulty one does not', async () => {
    const folder = ownFolder({ 's/watch.yaml': holeyWatch });
    const args = ['hunt', '-c', 's/watch.yaml', '--mistake', 'open-checks-not-cleared'];
    const { status } = await runHere(folder, [...args, '--output', 's/told.yaml']);
    expect(status).toBe(1);
    const suite = await runHere(folder, ['suite', 's', '--against-mistakes', '--json']);
    const { passed, againstMistakes } = JSON.parse(suite.stdout);
    expect(passed).toBe(1);
    const noticed = { name: 'open-checks-not-cleared', outcome: 'noticed', by: 'told.yaml' };
    expect(againstMistakes.faults).toContainEqual(expect.objectContaining(noticed));
  });

  it('tells of a fault that changes nothing, and hunts for none', async () => {
    const args = ['hunt', '-c', 'holey.yaml', '--mistake', 'sleep-overflow'];
    const { status, stdout } = await runHere(ownFolder(files), [...args, '--json']);
    expect(status).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({ found: false, noDifference: true });
  });
});

describe('what hunt heeds', () => {
  it('takes what may go wrong from the watch file, unless told to be calm', async () => {
    const watch = `${sureWatch}environment: { longestOutage: 5m, resets: 2 }\n`;
    const folder = ownFolder({ 'watch.yaml': watch });
    const adversityOf = async (...more: string[]): Promise<object> => {
      const args = ['hunt', '-c', 'watch.yaml', '--runs', '1', '--json', ...more];
      return JSON.parse((await runHere(folder, args)).stdout).adversity;
    };
    expect(await adversityOf()).toMatchObject({ outages: 1, longestOutageMs: 300_000, resets: 2 });
    expect(await adversityOf('--with', 'power,outages')).toMatchObject({
      outages: 1,
      powerCuts: 2,
      resets: 2,
    });
    expect(await adversityOf('--calm')).toMatchObject({ outages: 0, powerCuts: 0, resets: 0 });
  });

  it('stops when its time is up', async () => {
    let now = 0;
    const io = { elapsed: () => (now += 400) };
    const args = ['hunt', '-c', 'sure.yaml', '--for', '1s', '--json'];
    const { stdout } = await runHere(ownFolder(files), args, { io });
    expect(JSON.parse(stdout)).toMatchObject({ found: false, timelines: 200 });
  });

  it.each([
    ['unknown-name', ['--property', 'reported,perfect']],
    ['unknown-name', ['--with', 'floods']],
    ['unknown-name', ['--mistake', 'everything']],
    ['property-not-asked', ['--property', 'in-time']],
    ['property-not-asked', ['--property', 'quiet']],
    ['options-exclude', ['--calm', '--with', 'power']],
    ['options-exclude', ['--mistake', 'unsent-kept', '--property', 'reported']],
    ['seed-missing', ['--path', '3']],
    ['path-unreadable', ['--path', '../x', '--seed', '1']],
    ['not-a-whole-number', ['--runs', '0']],
    ['not-a-whole-number', ['--runs', '1e3']],
    ['duration-without-unit', ['--for', '30']],
    ['out-of-range', ['--for', '0s']],
    ['out-of-range', ['--for', '367d']],
    ['out-of-range', ['--length', '0s']],
    ['out-of-range', ['--length', '367d']],
    ['output-is-stdout', ['--output', '-']],
    ['output-is-input', ['--output', 'sure.yaml']],
  ])('refuses with %s: %j', async (code, args) => {
    const folder = ownFolder(files);
    const { status, stdout, stderr } = await runHere(folder, ['hunt', '-c', 'sure.yaml', ...args]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(codesIn(stderr)).toContain(code);
    expect(filesIn(folder)).toEqual(['holey.yaml', 'sure.yaml']);
  });

  it('suggests the mistake whose name is nearest', async () => {
    const args = ['hunt', '-c', 'sure.yaml', '--mistake', 'sleep-overflw'];
    const { stderr } = await runHere(ownFolder(files), args);
    expect(stderr).toContain('did you mean sleep-overflow?');
  });
});
