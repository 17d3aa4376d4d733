// Lets Node import TypeScript as it stands: `node --import ./scripts/support/typescript.mjs FILE`.
import { register } from 'node:module';

register('./typescript-hooks.mjs', import.meta.url);
