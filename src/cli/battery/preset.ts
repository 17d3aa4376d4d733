// Where the numbers of a preset come from, so that nobody takes them for measured ones.
import { presetNumbers, type SupplySettings } from '../../model/index.js';
import { factsText } from '../layout/table-text.js';

/** The numbers that a preset filled in, each with how sure it is; empty when none did. */
export function presetText({ preset }: SupplySettings, width: number): string {
  if (preset === null || preset.filled.length === 0) return '';
  const rows = presetNumbers(preset.name)
    .filter(({ key }) => preset.filled.includes(key))
    .map(({ key, value, basis, source }) => {
      const written =
        typeof value === 'string'
          ? value
          : Object.entries(value)
              .map(([name, amount]) => `${name} ${amount}`)
              .join(', ');
      return [key, `${written} (${basis}: ${source})`] as const;
    });
  return `\nFrom the preset ${preset.name}, not measured on your board\n${factsText(rows, width)}`;
}
