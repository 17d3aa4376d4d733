// All golden cases. A further one is a line in one of these lists; `npm run golden` then writes its file.
import type { GoldenCase } from './case.js';
import { logCases } from './cases/logs.js';
import { otherKindCases } from './cases/other-kinds.js';
import { programCases } from './cases/program.js';
import { proofCases } from './cases/proofs.js';
import { refusedCases } from './cases/refused.js';
import { replayCases } from './cases/replay.js';
import { rigCases } from './cases/rig.js';
import { yearCases } from './cases/years.js';

export const goldenCases: readonly GoldenCase[] = [
  ...programCases,
  ...replayCases,
  ...proofCases,
  ...yearCases,
  ...rigCases,
  ...refusedCases,
  ...otherKindCases,
  ...logCases,
];
