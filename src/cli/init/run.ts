// `dozewatch init` at work: a watch file and a first scenario to change at will.

import { existsSync } from 'node:fs';
import path from 'node:path';
import { plain, shellWord } from '../../base/index.js';
import { starterScenarioText, starterWatchText } from '../../scenarios/index.js';
import type { ExitStatus, Io } from '../host/io.js';
import { shippedText } from '../host/shipped.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { print } from '../layout/print.js';
import { problem } from '../problem.js';
import { logicTemplate } from './logic-template.js';
import type { InitOptions } from './options.js';

const watchName = 'watch.yaml';
const logicName = 'logic.mjs';
const scenarioName = 'first-scenario.yaml';
/** Schemas lie apart: they are ours, and written again each time. */
const schemaFolder = '.dozewatch';
const schemaNames = ['watch.schema.json', 'scenario.schema.json'] as const;

/** @throws InputProblem when a file is there already, and none is written then. */
export async function init(folder: string, options: InitOptions, io: Io): Promise<ExitStatus> {
  const at = (name: string): string => path.join(folder, name);
  const logic = options.logic === true ? [[logicName, logicTemplate] as const] : [];
  for (const name of [watchName, scenarioName, ...logic.map(([file]) => file)]) {
    if (options.force === true || !existsSync(path.resolve(io.folder, at(name)))) continue;
    throw problem('file-exists', at(name), {
      message: 'this file exists, so nothing was written',
      hint: 'choose another folder, or overwrite it with --force',
    });
  }
  const inFolder = true as const;
  const [watchSchema, scenarioSchema] = schemaNames;
  const texts: readonly (readonly [name: string, text: string])[] = [
    [`${schemaFolder}/${watchSchema}`, await shippedText(`schemas/${watchSchema}`)],
    [`${schemaFolder}/${scenarioSchema}`, await shippedText(`schemas/${scenarioSchema}`)],
    [watchName, starterWatchText(`./${schemaFolder}/${watchSchema}`)],
    [scenarioName, starterScenarioText(`./${schemaFolder}/${scenarioSchema}`)],
    ...logic,
  ];
  const outputs = texts.map(([name]) => ({ option: at(name), file: at(name), inFolder }));
  await refuseUnfitOutputs(outputs, { inputs: [], io });
  for (const [name, text] of texts) await writeOutput(at(name), [text], io, { inFolder });
  if (options.json === true) {
    const written = texts.map(([name]) => at(name)).sort((a, b) => (a < b ? -1 : 1));
    await io.stdout.write(`${JSON.stringify({ schema: 'dozewatch/init/1', written }, null, 2)}\n`);
    return 0;
  }
  await print(
    io,
    nextSteps((name) => plain(at(name)), options.logic === true),
  );
  return 0;
}

function nextSteps(at: (name: string) => string, withLogic: boolean): string {
  const word = (name: string): string => shellWord(at(name));
  const [watch, scenario] = [word(watchName), word(scenarioName)];
  const wroteLogic = withLogic
    ? `Wrote ${at(logicName)}: the watch as a state machine for you to change.\n`
    : '';
  const tryLogic = withLogic ? `\n  dozewatch bounds -c ${watch} --logic ${word(logicName)}` : '';
  return `Wrote ${at(watchName)}: the settings of the watch, and your requirements.
Wrote ${at(scenarioName)}: one day of a door. Change it, or add days of your own.
${wroteLogic}Wrote ${at(schemaFolder)}: schemas, with which an editor completes and checks these files.

Try next:
  dozewatch replay ${scenario} -c ${watch}
  dozewatch chart ${scenario} -c ${watch} -o ${word('first-scenario.svg')}
  dozewatch suite ${word('.')}
  dozewatch bounds -c ${watch}${tryLogic}
  dozewatch estimate -c ${watch} --profile flower-store --years 100
`;
}
