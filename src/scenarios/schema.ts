// JSON Schemas, made from the very definitions that read the files, so that editors complete and check them.
import * as z from 'zod';
import { scenarioDefinition } from './scenario/definition.js';
import { watchDefinition } from './watch/definition.js';

/** The schema of watch files, JSON Schema draft 2020-12. */
export function watchJsonSchema(): Record<string, unknown> {
  return z.toJSONSchema(watchDefinition, { io: 'input', target: 'draft-2020-12' });
}

/** The schema of scenarios, JSON Schema draft 2020-12. */
export function scenarioJsonSchema(): Record<string, unknown> {
  return z.toJSONSchema(scenarioDefinition, { io: 'input', target: 'draft-2020-12' });
}
