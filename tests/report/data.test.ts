// The data of a page gives the same timeline back, whatever its contact does.

import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { decodedData, unpackData } from '../../src/report/data/decode-data.js';
import { encodedData, packedData } from '../../src/report/data/encode.js';
import { defaultWatchFile, parseScenario, timelineOf } from '../../src/scenarios/index.js';

const head = 'start: 2026-05-08T06:00:00Z\nlength: 1d\n';
const scenarios = {
  'follows its door': 'door: [{ at: +1h, for: 5m }, { at: +2h, until: end }]\n',
  'is never opened': 'door: []\n',
  'chatters and sticks':
    'door: [{ at: +1h, for: 5m }]\ncontact: [{ stuck: open, at: +3h, for: 1m }, { chattering: true, at: +4h, for: 20s }]\n',
};

const unpacked = (text: string) => new Promise((resolve) => unpackData(text, resolve));

describe('the data of a page', () => {
  it.each(Object.entries(scenarios))('gives back the contact that %s', async (_, text) => {
    const read = parseScenario(`${head}${text}`, 'day.yaml');
    if (!read.ok) throw new Error(JSON.stringify(read.errors));
    const watchFile = defaultWatchFile();
    const timeline = timelineOf(read.value, watchFile, { seed: 'data' });
    if (!timeline.ok) throw new Error(JSON.stringify(timeline.errors));
    const data = { timelines: [{ timeline: timeline.value, watchFile }] };
    const [found] = decodedData(encodedData(data)).timelines;
    expect(found?.timeline.world).toEqual(timeline.value.world);
    const packed = packedData(gzipSync(encodedData(data)).toString('base64'));
    expect(await unpacked(packed)).toEqual(decodedData(encodedData(data)));
    expect(await unpacked(encodedData(data))).toEqual(decodedData(encodedData(data)));
  });
});
