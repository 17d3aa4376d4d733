// The program around its commands: help, completion, what init writes, the planner's page.
import { type GoldenCase, golden } from '../case.js';

const commands =
  'init planner replay chart suite bounds verify hunt estimate merge profile battery margin year tune emit rig place drill compare silence report completion';
const helps = commands
  .split(' ')
  .map((name) => golden(`help/${name}`, [`${name} --help`, `${name} --help-all`]));

export const programCases: readonly GoldenCase[] = [
  golden('help/dozewatch', ['--help', '--version', 'help replay']),
  ...helps,
  golden('init/new-folder', ['init store', 'replay store/first-scenario.yaml -c store/watch.yaml']),
  golden('init/logic', [
    'init store --logic --json',
    'replay reported.yaml -c exact.yaml --logic store/logic.mjs',
    'replay missed.yaml false.yaml -c exact.yaml --logic store/logic.mjs # status 1',
    'init store # status 2',
    'init store --force',
  ]),
  golden('completion/bash', ['completion bash']),
  golden('completion/zsh', ['completion zsh']),
  golden('completion/fish', ['completion fish']),
  golden('completion/json', ['completion fish --json']),
  golden('planner/page', ['planner -o planner.html', 'planner -o planner.html --json']),
];
