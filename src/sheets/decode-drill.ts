// The data of a drill's page, read back where it was written: the shape is that of `encodedDrill`.
import type { DrillData } from './drill-data.js';

export function decodedDrill(text: string): DrillData {
  return JSON.parse(text) as DrillData;
}
