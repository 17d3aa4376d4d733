// Small inputs of the command-line tests. Checks come every 100 s exactly: boot and connect take no time.

export const exactWatch = `watch: { checkInterval: 100s, escalationThreshold: 2 }
device: { bootTime: 0ms, connectTime: 0ms }
judge: { leaveOpenAfter: 3m, reportWithin: 5m }
`;

/** Opened at 150 s, read open at 200 s and 300 s: told at 300 s, 150 s after it opened: early, reported. */
export const reportedDay = `name: Trolley through the hatch
start: 2026-05-08T06:00:00+02:00
length: 1h
door: [{ at: +150s, for: 10m, note: wedged }]
`;

/** Read open at 200 s only: missed. */
export const missedDay = `name: Hatch left ajar
start: 2026-05-08T06:00:00+02:00
length: 1h
door: [{ at: +101s, for: 190s }]
network: [{ down: +0s, for: 59m }]
`;

/** Two checks fall into 150 s: a false alarm. */
export const falseDay = `name: Twice looked at
start: 2026-05-08T06:00:00+02:00
length: 1h
door: [{ at: +190s, for: 150s }]
`;

export const calmDay = `name: Nobody comes
start: 2026-05-08T06:00:00+02:00
length: 1h
`;

export const openingsCsv = `start,end
2026-05-08T06:02:30Z,2026-05-08T06:12:30Z
2026-05-08T07:00:00Z,2026-05-08T07:00:10Z
`;
