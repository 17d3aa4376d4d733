// Settings as a watch file writes them.
const units = [
  { name: 'h', ms: 3_600_000 },
  { name: 'm', ms: 60_000 },
  { name: 's', ms: 1_000 },
  { name: 'ms', ms: 1 },
] as const;

/** A duration: `2m30s`, `1h`, `0s`. */
export function writtenDuration(ms: number): string {
  if (ms === 0) return '0s';
  let rest = ms;
  return units
    .map(({ name, ms: unit }) => {
      const count = Math.floor(rest / unit);
      rest -= count * unit;
      return count > 0 ? `${String(count)}${name}` : '';
    })
    .join('');
}
