// `dozewatch verify` from files and options to words, JSON and exit status, in this process.
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { codesIn, filesIn, ownFolder, type Ran, runHere } from './run-here.js';

const watch = `watch: { checkInterval: 2m, recheckInterval: 20s, alertCooldown: 0s }
judge: { leaveOpenAfter: 3m }
`;
/** No requirement, so no remedies are searched for. */
const unasked = 'judge: { leaveOpenAfter: 9h }\n';
const storm = `${watch}environment: { longestOutage: 5m, powerLosses: 1, powerLossLasting: 30s, resets: 1 }\n`;

const proofs = new Map<string, Promise<string>>();

/** A folder with a watch and its certificate, which is sought once. */
async function certified(config = watch, options: readonly string[] = []): Promise<string> {
  const key = JSON.stringify([config, options]);
  const proof = proofs.get(key) ?? proofOf(config, options);
  proofs.set(key, proof);
  return ownFolder({ 'watch.yaml': config, 'proof.json': await proof });
}

async function proofOf(config: string, options: readonly string[]): Promise<string> {
  const folder = ownFolder({ 'watch.yaml': config });
  const args = ['bounds', '-c', 'watch.yaml', '--certificate', 'proof.json', ...options];
  const { stderr } = await runHere(folder, args);
  expect(stderr).not.toContain('error:');
  return proofIn(folder);
}

function verify(folder: string, ...options: readonly string[]): Promise<Ran> {
  return runHere(folder, ['verify', 'proof.json', '-c', 'watch.yaml', ...options]);
}

function proofIn(folder: string): string {
  return readFileSync(path.join(folder, 'proof.json'), 'utf8');
}

function rewrite(folder: string, text: string): void {
  writeFileSync(path.join(folder, 'proof.json'), text);
}

/** Exactly one error, of this code; exit status 2. */
function expectRefusedInput(ran: Ran, code: string): void {
  const errors = ran.stderr.split('\n').filter((line) => line.startsWith('error: '));
  expect(codesIn(errors.join('\n'))).toEqual([code]);
  expect(ran.stderr).not.toMatch(/\n\s+at /u);
  expect(ran).toMatchObject({ status: 2, stdout: '' });
}

describe('verify', () => {
  it.each<readonly [string, string]>([
    ['nothing that goes wrong', watch],
    ['an outage, a power loss and a reset', storm],
    [
      'a device that holds',
      'watch: { checkInterval: 3m, afterAlert: hold-until-reset }\n' + unasked,
    ],
    [
      'checks remembered, in a cooldown that shutting does not end',
      `watch: { checkInterval: 6m, recheckInterval: 3m, escalationThreshold: { open: 2, outOf: 3 }, alertCooldown: 20m,
  cooldownEndsWhenShut: false, clearThreshold: 2 }\n${unasked}`,
    ],
    [
      'a clock, a boot and a connection that vary',
      `watch: { checkInterval: 3m, alertCooldown: 5m }
device: { clockError: { min: -2%, max: 3% }, bootTime: { min: 0.2s, max: 1s }, connectTime: { min: 2s, max: 8s } }\n${unasked}`,
    ],
    [
      'edges that wake it',
      'watch: { checkInterval: 1h, recheckInterval: 1m, wakeOn: any-change }\n',
    ],
    ['a contact that bounces', `${watch}environment: { longestChatter: 5m }\n`],
    [
      'heartbeats',
      'watch: { checkInterval: 20m, heartbeatInterval: 2h, alertCooldown: 0s }\n' + unasked,
    ],
  ])('accepts the certificate of a watch with %s', async (_, config) => {
    const { status, stdout } = await verify(await certified(config), '--json');
    expect(JSON.parse(stdout)).toMatchObject({ schema: 'dozewatch/verify/4', verdict: 'verified' });
    expect(status).toBe(0);
  });

  it('reads the certificate from standard input, and the same options as bounds did', async () => {
    const options = ['--outage', '10m', '--clock-error', '-1%..1%'];
    const folder = await certified(watch, options);
    const args = ['verify', '-', '-c', 'watch.yaml', ...options];
    expect((await runHere(folder, args, { stdin: proofIn(folder) })).status).toBe(0);
  });

  it('refuses a bound that is better than it is: exit 1, with the place and what had to stand there', async () => {
    const folder = await certified();
    const wrong = proofIn(folder).replace(
      '"neverAlarmedUpToMs": 20400',
      '"neverAlarmedUpToMs": 20401',
    );
    rewrite(folder, wrong);
    const json = await verify(folder, '--json');
    expect(JSON.parse(json.stdout)).toMatchObject({
      verdict: 'refused',
      place: '/bounds/neverAlarmedUpToMs',
    });
    expect(json.status).toBe(1);
  });

  it('refuses a certificate of another watch, naming the setting', async () => {
    const folder = await certified();
    const ran = await verify(folder, '--interval', '3m');
    expectRefusedInput(ran, 'certificate-of-another-watch');
    expect(ran.stderr).toContain('/watch/checkIntervalMs');
  });

  it('does not advise a proof with heartbeats, which can be too large, where the certificate is of a watch without', async () => {
    const folder = await certified();
    writeFileSync(path.join(folder, 'beats.yaml'), 'watch: { heartbeatInterval: 1d }\n');
    const ran = await runHere(folder, ['verify', 'proof.json', '-c', 'beats.yaml']);
    expectRefusedInput(ran, 'certificate-of-another-watch');
    expect(ran.stderr).toContain('of a watch without heartbeatInterval');
    expect(ran.stderr).not.toContain('--certificate');
  });

  it('keeps --no-config in the line that proves the defaults', async () => {
    const folder = await certified();
    const ran = await runHere(folder, ['verify', 'proof.json', '--no-config']);
    expectRefusedInput(ran, 'certificate-of-another-watch');
    expect(ran.stderr.replaceAll(/\s+/gu, ' ')).toContain(
      'dozewatch bounds --no-config --certificate new-proof.json',
    );
  });

  it('refuses a certificate of another device, naming the time', async () => {
    const ran = await verify(await certified(), '--clock-error', '-1%..1%');
    expectRefusedInput(ran, 'certificate-of-another-watch');
    expect(ran.stderr).toContain('/device/clockErrorPpm/');
  });

  it('refuses a certificate of an environment in which less goes wrong, and accepts one of more', async () => {
    const folder = await certified(storm);
    const milder = await verify(folder, '--outage', '6m');
    expectRefusedInput(milder, 'certificate-of-milder-environment');
    expect(milder.stderr).toContain('/environment/longestOutageMs');
    for (const more of [
      ['--power-losses', '2'],
      ['--power-loss-lasting', '31s'],
      ['--resets', '2'],
      ['--chatter', '1s'],
      ['--outages', '2'],
    ]) {
      expectRefusedInput(await verify(folder, ...more), 'certificate-of-milder-environment');
    }
    const more = await verify(folder, '--outage', '4m', '--resets', '0');
    expect(more.status).toBe(0);
    expect(more.stdout).toContain('not shown by this certificate');
    expect(more.stdout).not.toContain('NOT met');
    expect(more.stdout).toMatch(/covers more than the watch file and the options\s+allow/u);
    const same = await verify(folder);
    expect(same.stdout).toContain('NOT met');
    expect(same.stdout).not.toMatch(/covers more|not shown/u);
    const parted = ['--outage', '5m', '--outages', '2', '--outages-apart'];
    const apart = await certified(watch, [...parted, '20m']);
    const closer = await verify(apart, ...parted, '19m');
    expectRefusedInput(closer, 'certificate-of-milder-environment');
    expect(closer.stderr).toContain('/environment/outagesApartMs');
    expect((await verify(apart, ...parted, '30m')).status).toBe(0);
  });

  it('refuses an environment that was changed by hand', async () => {
    const folder = await certified(storm);
    rewrite(folder, proofIn(folder).replace('"resets": 1', '"resets": 9'));
    expect((await verify(folder)).stdout).toMatch(/refused[^]*where +\/environment\/checksum\n/u);
  });
});

describe('what is no certificate', () => {
  it.each<readonly [string, string, string]>([
    ['nothing', '', 'file-empty'],
    ['words', 'the door was shut', 'json-syntax'],
    ['a number that JSON does not know', '{ "schema": NaN }', 'json-syntax'],
    ['a list without end', '['.repeat(200_000), 'file-too-deep'],
    ['a deep list', `${'['.repeat(5_000)}${']'.repeat(5_000)}`, 'file-too-deep'],
    [
      'a key that is the name of the prototype',
      '{ "__proto__": { "schema": 1 } }',
      'certificate-malformed',
    ],
    ['another of our files', '{ "schema": "dozewatch/bounds/2" }', 'certificate-malformed'],
    ['null', 'null', 'certificate-malformed'],
  ])('is one clear error: %s', async (_, text, code) => {
    const folder = ownFolder({ 'watch.yaml': watch, 'proof.json': text });
    expectRefusedInput(await verify(folder), code);
  });

  it('is one clear error: a certificate cut short, with the place, or with texts for numbers', async () => {
    const folder = await certified();
    const whole = proofIn(folder);
    rewrite(folder, whole.slice(0, whole.length / 2));
    const cut = await verify(folder);
    expectRefusedInput(cut, 'json-syntax');
    const line = whole.slice(0, whole.length / 2).split('\n').length;
    expect(cut.stderr).toContain(`proof.json:${String(line)}:`);
    rewrite(folder, whole.replace('"bestDelayMs": 24400', '"bestDelayMs": "24400"'));
    const texts = await verify(folder);
    expectRefusedInput(texts, 'certificate-malformed');
    expect(texts.stderr).toContain('/bounds/bestDelayMs');
  });

  it('is one clear error: a file far larger than any certificate', async () => {
    const folder = ownFolder({ 'watch.yaml': watch });
    const spaces = new Uint8Array(16 * 1_024 * 1_024).fill(0x20);
    const stdin = (async function* () {
      for (;;) yield await Promise.resolve(spaces);
    })();
    const ran = await runHere(folder, ['verify', '-', '-c', 'watch.yaml'], { io: { stdin } });
    expectRefusedInput(ran, 'file-too-large');
  });

  it('is one clear error: no file, or standard input for both', async () => {
    const folder = ownFolder({ 'watch.yaml': watch });
    expect((await verify(folder)).status).toBe(2);
    const twice = await runHere(folder, ['verify', '-', '-c', '-']);
    expectRefusedInput(twice, 'standard-input-twice');
  });
});

describe('bounds --certificate', () => {
  it('says what it cannot certify, and leaves nothing behind', async () => {
    const config = `watch: { wakeOn: any-change, alertCooldown: 0s }\nenvironment: { longestChatter: 1s }\n${unasked}`;
    const folder = ownFolder({ 'watch.yaml': config });
    const ran = await runHere(folder, [
      'bounds',
      '-c',
      'watch.yaml',
      '--certificate',
      'proof.json',
    ]);
    expect(ran.status).toBe(2);
    expect(codesIn(ran.stderr)).toContain('not-certifiable');
    expect(filesIn(folder)).toEqual(['watch.yaml']);
  });

  it('names a repeat of low-battery messages that it can certify', async () => {
    const watchWith = (repeat: string): string =>
      `watch: { checkInterval: 3h, lowBattery: { at: 20%, repeat: ${repeat} } }\n${unasked}`;
    const certified = (repeat: string) =>
      runHere(ownFolder({ 'watch.yaml': watchWith(repeat) }), [
        'bounds',
        '--certificate',
        'p.json',
      ]);
    const refused = await certified('1d');
    expect(refused.status).toBe(2);
    const [, repeat = ''] = /lowBattery\.repeat, such as (\w+)/u.exec(refused.stderr) ?? [];
    const { status, stdout } = await certified(repeat);
    expect([status, stdout]).toEqual([0, expect.stringContaining('p.json')]);
  });
});

describe('a certificate with a key twice', () => {
  it('is refused with its place, since readers of JSON differ in which of the two they take', async () => {
    // RFC 8259, section 4: names within an object should be unique.
    const folder = await certified();
    const text = proofIn(folder);
    rewrite(folder, text.replace('"bounds": {', '"bounds": {"bestDelayMs": 1,'));
    const ran = await verify(folder);
    expectRefusedInput(ran, 'duplicate-key');
    expect(ran.stderr).toMatch(/proof\.json:\d+:\d+: .*\n(?:.*\n)*? {2}found: {2}"bestDelayMs"/u);
    rewrite(folder, text.replace('"bounds": {', String.raw`"bounds": {"best\u0044elayMs": 1,`));
    expectRefusedInput(await verify(folder), 'duplicate-key');
    rewrite(folder, text.replace('"watch"', '"wacht"'));
    expect((await verify(folder)).stderr).toContain('expected:  this key, with its value');
  });
});
