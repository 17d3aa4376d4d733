// `dozewatch init` at work: a watch file and a first scenario to change at will.

import { existsSync } from 'node:fs';
import path from 'node:path';
import { plain } from '../../base/index.js';
import { starterScenarioText, starterWatchText } from '../../scenarios/index.js';
import type { ExitStatus, Io } from '../host/io.js';
import { shippedText } from '../host/shipped.js';
import { refuseUnfitOutputs, writeOutput } from '../host/write-output.js';
import { tell } from '../layout/tell.js';
import { problem } from '../problem.js';
import { logicTemplate } from './logic-template.js';
import type { InitOptions } from './options.js';

const watchName = 'watch.yaml';
const logicName = 'logic.mjs';
const scenarioName = 'first-scenario.yaml';
/** Schemas lie apart: they are ours, and written anew each time. */
const schemaFolder = '.dozewatch';
const schemaNames = ['watch.schema.json', 'scenario.schema.json'] as const;

/** @throws InputProblem when a file is there already, and none is written then. */
export async function init(folder: string, options: InitOptions, io: Io): Promise<ExitStatus> {
  const at = (name: string): string => path.join(folder, name);
  const logic = options.logic === true ? [[logicName, logicTemplate] as const] : [];
  for (const name of [watchName, scenarioName, ...logic.map(([file]) => file)]) {
    if (options.force === true || !existsSync(path.resolve(io.folder, at(name)))) continue;
    throw problem('file-exists', at(name), {
      message: 'this file is there already, and nothing was written',
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
  await tell(
    io.stdout,
    nextSteps((name) => plain(at(name)), options.logic === true),
  );
  return 0;
}

function nextSteps(at: (name: string) => string, withLogic: boolean): string {
  const [watch, scenario] = [at(watchName), at(scenarioName)];
  const wroteLogic = withLogic
    ? `Wrote ${at(logicName)}: the watch as a state machine, to be changed into logic of your own.\n`
    : '';
  const tryLogic = withLogic ? `\n  dozewatch bounds -c ${watch} --logic ${at(logicName)}` : '';
  return `Wrote ${watch}: what the watch does, and what you ask of it.
Wrote ${scenario}: one day of a door, to be changed into days of your own.
${wroteLogic}
What to try next:
  dozewatch replay ${scenario} -c ${watch}
  dozewatch chart ${scenario} -c ${watch} -o ${at('first-scenario.svg')}
  dozewatch suite ${at('.')}${tryLogic}
  dozewatch replay YOUR-DOOR-LOG.csv -c ${watch}
`;
}
