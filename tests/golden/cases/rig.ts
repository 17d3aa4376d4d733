// The owner's own firmware: some short runs, where there is a C compiler.
import { type GoldenCase, golden } from '../case.js';

const rigged = (name: string, runs: readonly string[], status = 0): GoldenCase =>
  golden(`rig/${name}`, runs, { status, needsCompiler: true });

export const rigCases: readonly GoldenCase[] = [
  rigged('sound', ['rig default-watch.c late.yaml', 'rig default-watch.c late.yaml --json']),
  rigged('never-tries-again', ['rig forgetful.c delivery-day.yaml -c plain.yaml'], 1),
  rigged('breaks', ['rig returns.c late.yaml'], 1),
  rigged('suite', ['rig default-watch.c --suite met --junit rig.xml'], 1),
  rigged(
    'hunt',
    [
      'rig forgetful.c --hunt -c plain.yaml --runs 100 -o found.yaml',
      'rig returns.c --hunt -c plain.yaml --runs 20',
    ],
    1,
  ),
  rigged('hunt-of-a-sound-one', ['rig default-watch.c --hunt --runs 40']),
  rigged(
    'conform',
    [
      'rig forgetful.c --conform late.yaml -c plain.yaml',
      'rig ordinary.c --conform late.yaml -c plain.yaml --json',
      'rig ordinary.c --conform late.yaml -c plain.yaml',
      'rig default-watch.c --conform late.yaml # status 0',
    ],
    1,
  ),
];
