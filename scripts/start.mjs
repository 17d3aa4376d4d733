// `npm start` on a fresh clone: installs, builds, replays a demo week, draws it, and says what to try next.
import { existsSync, rmSync } from 'node:fs';
import path from 'node:path';
import { runNode } from './support/process.mjs';
import { PlainError } from './support/require-tool.mjs';
import { ensureBuilt, ensureInstalled, root } from './support/set-up.mjs';

const demo = ['scenarios/demo/week.yaml', '-c', 'scenarios/demo/watch.yaml'];
const command = path.join('dist', 'cli.js');
const picture = 'dozewatch-demo.svg';
const replayDemo = ['replay', ...demo];
const chartDemo = ['chart', ...demo, '-o', picture];

/** @param {readonly string[]} args */
async function dozewatch(args) {
  console.log(`\n$ dozewatch ${args.join(' ')}\n`);
  const { status } = await runNode([command, ...args], { cwd: root });
  // 1 is a finding about the watch, and findings are what the tool is for; the rest is the tool's own trouble.
  if (status > 1) {
    throw new PlainError(`\nThe demo stopped: dozewatch ended with status ${status}.`, {
      cause: status,
    });
  }
  return status;
}

async function main() {
  await ensureInstalled();
  await ensureBuilt();
  if (!existsSync(path.join(root, command))) throw new PlainError(`The build made no ${command}.`);
  const verdict = await dozewatch(replayDemo);
  if (verdict === 1) {
    console.log(
      '\nExit status 1: the watch did not keep its promise all week. That is a finding, not a fault;\n' +
        'in a test of your own it would turn the build red.',
    );
  }
  rmSync(path.join(root, picture), { force: true });
  await dozewatch(chartDemo);
  if (!existsSync(path.join(root, picture))) {
    throw new PlainError(`\nThe demo stopped: no ${picture} was written.`);
  }
  console.log(
    [
      '',
      `The picture of the week: ${path.join(root, picture)} (open it in a browser)`,
      '',
      'What to try next:',
      '  npx dozewatch init                  writes a watch file and a scenario of your own',
      '  npx dozewatch suite scenarios       replays every scenario against its expectations',
      '  npx dozewatch replay --help         scenarios, door logs, traces, JSON',
    ].join('\n'),
  );
}

try {
  await main();
} catch (error) {
  if (!(error instanceof PlainError)) throw error;
  console.error(error.message);
  process.exitCode = error.cause === 130 ? 130 : 1;
}
