// Watch files drawn from a seed, in which every setting that bounds depend on is met with every other. Times are short against
// each other, and faults few, so that most are answered in a fraction of a second.
import seedrandom from 'seedrandom';

type Draw = readonly [share: number, values: readonly string[]];

const sections: Readonly<Record<string, Readonly<Record<string, Draw>>>> = {
  watch: {
    checkInterval: [1, ['1m', '2m', '3m', '5m', '10m', '47s']],
    recheckInterval: [0.4, ['20s', '40s', '1m', '2m', '10m']],
    escalationThreshold: [
      0.9,
      ['1', '1', '2', '2', '3', '{ open: 2, outOf: 3 }', '{ open: 3, outOf: 4 }'],
    ],
    clearThreshold: [0.2, ['2', '3']],
    alertCooldown: [0.9, ['0s', '0s', '1m', '5m', '10m', '20m']],
    cooldownEndsWhenShut: [0.3, ['false']],
    afterAlert: [0.12, ['hold-until-reset']],
    retry: [0.3, ['{ interval: 20s, attempts: 2 }', '{ interval: 1m, attempts: 1 }']],
    unsentWhenShut: [0.25, ['drop']],
    wakeOn: [0.45, ['opening', 'any-change']],
    heartbeatInterval: [0.3, ['10m', '30m', '1h', '6h', '1d']],
    lowBattery: [0.08, ['{ at: 20% }', '{ at: 30%, repeat: 10m }']],
  },
  device: {
    bootTime: [0.6, ['0s', '0s', '1s', '300ms..900ms', '10s']],
    connectTime: [0.6, ['0s', '0s', '3s', '1s..6s', '30s']],
    joinWait: [0.15, ['5s', '30s']],
    clockError: [0.4, ['1%', '-2%', '-1%..1%', '0.5%']],
    reset: [
      0.4,
      [
        '{ button: clears, watchdog: keeps }',
        '{ button: keeps, watchdog: keeps, software: keeps }',
      ],
    ],
  },
  judge: {
    leaveOpenAfter: [1, ['90s', '3m', '5m', '10m', '20m']],
    reportWithin: [0.6, ['3m', '5m', '10m', '20m', '1h']],
    quietUpTo: [0.5, ['20s', '1m', '2m', '4m']],
  },
  contact: {
    operateGap: [1, ['5mm', '8mm']],
    releaseGap: [1, ['9mm', '12mm']],
    bounceTime: [0.4, ['0ms', '5ms', '1s']],
  },
  door: {
    sealGap: [0.5, ['1mm', '3mm', '7mm']],
    opensAtLeast: [0.5, ['10mm', '30mm']],
  },
  environment: {
    longestOutage: [
      0.4,
      ['3m', '10m', '1h', '10m, outages: 2', '3m, outages: 2, outagesApart: 5m'],
    ],
    powerLosses: [0.25, ['1', '1, powerLossLasting: 10s', '2, powerLossLasting: 5m']],
    resets: [0.25, ['1', '1', '2']],
    longestChatter: [0.15, ['5s', '2m']],
  },
};

/** How often a section stands in a file at all. */
const shares: Readonly<Record<string, number>> = { contact: 0.15, door: 0.1, environment: 0.55 };

/** The text of a watch file; the same for the same index. */
export function drawnWatch(index: number): string {
  const random = seedrandom(`watch ${String(index)}`);
  const lines = Object.entries(sections).flatMap(([section, keys]) => {
    const stands = random() < (shares[section] ?? 1);
    const drawn = Object.entries(keys).flatMap(([key, [share, values]]) => {
      const isDrawn = random() < share;
      const value = values[Math.floor(random() * values.length)] ?? '';
      return isDrawn ? [`${key}: ${value}`] : [];
    });
    return stands && drawn.length > 0 ? [`${section}: { ${drawn.join(', ')} }`] : [];
  });
  const needsSupply = lines.some((line) => line.includes('lowBattery'));
  const supply = needsSupply ? ['supply: { capacity: 500mAh, sleepCurrent: 10uA }'] : [];
  return `${[...lines, ...supply].join('\n')}\n`;
}

/** Those of the first 222 that are answered within some 0.1 s. */
export const quickWatches: readonly number[] = [
  1, 3, 11, 12, 13, 14, 15, 18, 19, 20, 22, 25, 26, 27, 28, 29, 30, 31, 33, 34, 36, 40, 41, 42, 44,
  45, 47, 50, 51, 52, 53, 54, 56, 57, 59, 60, 61, 62, 64, 65, 66, 67, 68, 71, 75, 76, 77, 78, 80,
  82, 83, 84, 86, 87, 88, 89, 90, 93, 95, 97, 98, 99, 100, 101, 104, 105, 106, 107, 109, 110, 111,
  113, 115, 118, 119, 120, 121, 126, 130, 132, 137, 138, 139, 140, 141, 142, 143, 144, 146, 147,
  148, 149, 150, 151, 152, 153, 155, 156, 158, 160, 161, 163, 164, 165, 167, 168, 170, 172, 174,
  175, 176, 179, 181, 182, 185, 186, 188, 189, 190, 193, 194, 195, 196, 197, 198, 199, 200, 201,
  202, 203, 204, 206, 208, 210, 211, 213, 214, 215, 217, 221,
];
