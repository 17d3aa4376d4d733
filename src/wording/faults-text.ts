// The faults that an environment allows, as what else decides whether an opening is reported.
import type { Environment } from '../model/index.js';

/** What else decides whether an opening is reported: ` and when the network fails`. */
export function faultsText({
  longestOutageMs,
  powerLosses,
  resets,
  longestChatterMs,
}: Environment): string {
  const faults = [
    ...(longestOutageMs > 0 ? ['the network fails'] : []),
    ...(powerLosses > 0 ? ['the power fails'] : []),
    ...(resets > 0 ? ['a reset comes'] : []),
    ...(longestChatterMs > 0 ? ['the contact reads wrongly'] : []),
  ];
  return faults.length === 0 ? '' : ` and when ${faults.join(' or ')}`;
}
