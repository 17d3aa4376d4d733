// What is proposed helps: each remedy, written into the watch file as it is printed, makes the requirements hold by a search
// of its own, from where it says so.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Bounds,
  boundsOf,
  type FalseAlarmsPerYear,
  obstacleOf,
  questionOf,
} from '../../src/bounds/index.js';
import { calmEnvironment } from '../../src/model/index.js';
import { compileWatch } from '../../src/sim/index.js';
import { watchFileOf } from '../support/bounds-answers.js';
import { assertUntil } from '../support/until-seen.js';
import { drawnWatch } from './drawn-watches.js';

type Settings = Readonly<Record<string, string>>;

interface Asked {
  readonly watch: Settings;
  readonly sections: string;
}

const asked: fc.Arbitrary<Asked> = fc.record({
  watch: fc.record({
    checkInterval: fc.constantFrom('1m', '2m30s', '3m', '7m', '15m'),
    recheckInterval: fc.constantFrom('20s', '1m', '3m', '4m'),
    escalationThreshold: fc.constantFrom('1', '2', '3', '{ open: 2, outOf: 3 }'),
    alertCooldown: fc.constantFrom('0s', '5m', '30m'),
    cooldownEndsWhenShut: fc.constantFrom('true', 'false'),
    afterAlert: fc.constantFrom('keep-watching', 'keep-watching', 'hold-until-reset'),
    wakeOn: fc.constantFrom('timer', 'timer', 'opening', 'any-change'),
  }),
  sections: fc
    .record({
      clockError: fc.constantFrom('0%', '0%', '1%', '{ min: -2%, max: 2% }'),
      leaveOpenAfter: fc.constantFrom('1m', '3m', '10m'),
      reportWithin: fc.constantFrom('', 'reportWithin: 4m', 'reportWithin: 12m'),
      quietUpTo: fc.constantFrom('', 'quietUpTo: 20s', 'quietUpTo: 1m'),
      environment: fc.constantFrom('{}', '{}', '{ longestOutage: 2m }', '{ resets: 1 }'),
    })
    .map(
      ({ clockError, leaveOpenAfter, reportWithin, quietUpTo, environment }) =>
        `device: { clockError: ${clockError} }\n` +
        `judge:\n  leaveOpenAfter: ${leaveOpenAfter}\n  ${reportWithin}\n  ${quietUpTo}\n` +
        `environment: ${environment}\n`,
    ),
});

function boundsFor({ watch, sections }: Asked): Bounds {
  const settings = Object.entries(watch).map(([key, value]) => `  ${key}: ${value}\n`);
  const file = watchFileOf(`watch:\n${settings.join('')}${sections}`);
  return boundsOf(questionOf(file));
}

/** Writes each remedy into the watch file, and asks again. @returns where each holds. */
function triedIn(question: Asked): ('atRest' | 'anyState')[] {
  return boundsFor(question).remedies.map((remedy) => {
    const changes = remedy.changes.map(({ key, value }) => [key, value] as const);
    expect(changes.length).toBeGreaterThan(0);
    const watch = { ...question.watch, ...Object.fromEntries(changes) };
    const remedied = boundsFor({ ...question, watch });
    const { leaveOpenAfter, reportWithin, quietUpTo } = remedied.holds;
    const { holds: from } = remedy;
    const answers = [leaveOpenAfter[from], reportWithin[from], quietUpTo.atRest];
    expect(answers, JSON.stringify(remedy)).not.toContain(false);
    expect(leaveOpenAfter[from]).toBe(true);
    expect(remedied.alwaysReportedFromMs[from]).toBe(remedy.alwaysReportedFromMs);
    expect(remedied.worstDelayMs[from]).toBe(remedy.worstDelayMs);
    const { atRest } = remedy.price;
    if (atRest !== null) {
      const never = Number.POSITIVE_INFINITY;
      const { sureFromMs, worstDelayMs } = atRest;
      expect(remedied.alwaysReportedFromMs.atRest ?? never).toBeLessThanOrEqual(
        sureFromMs.then ?? never,
      );
      expect(remedied.worstDelayMs.atRest ?? never).toBeLessThanOrEqual(worstDelayMs.then ?? never);
    }
    return from;
  });
}

describe('requirements that no setting meets together', () => {
  const faulty = (settings: string, environment: string) =>
    questionOf(
      watchFileOf(
        `watch: { alertCooldown: 20m, wakeOn: any-change, retry: { interval: 1m, attempts: 5 }, ${settings} }\n` +
          'device: { bootTime: 400ms, connectTime: 4s, reset: { button: clears, watchdog: keeps, software: keeps } }\n' +
          `judge: { leaveOpenAfter: 10m, reportWithin: 15m, quietUpTo: 90s }\nenvironment: ${environment}\n`,
      ),
    );
  const asSet = 'checkInterval: 5m, recheckInterval: 2m, escalationThreshold: 2';
  const all = '{ longestOutage: 10m, resets: 1, powerLosses: 1, powerLossLasting: 1m }';

  it('are each searched alone, and what is named meets them', () => {
    const { advice } = boundsOf(faulty(asSet, all));
    const named = /reportWithin alone can be met at rest: set (?<set>[^.]*)\./u.exec(advice ?? '');
    const settings = (named?.groups?.['set'] ?? 'nothing').replace(' and ', ', ');
    const { holds } = boundsOf(faulty(settings, all));
    expect([holds.reportWithin.atRest, holds.leaveOpenAfter.atRest]).toEqual([true, false]);
  });

  it('say which fault alone makes the watch loud', () => {
    const { advice, holds } = boundsOf(faulty(asSet, all));
    expect(holds.quietUpTo.atRest).toBe(false);
    expect(advice).toContain('because of resets');
    const without = boundsOf(faulty(asSet, all.replace('resets: 1', 'resets: 0')));
    expect(without.holds.quietUpTo.atRest).toBe(true);
  });
});

describe('a remedy', () => {
  it('makes all requirements hold once it is written into the watch file', () => {
    const tried = { atRest: 0, anyState: 0 };
    const property = fc.property(asked, (question) => {
      for (const from of triedIn(question)) tried[from] += 1;
    });
    assertUntil(property, { numRuns: 5 }, () => tried.atRest > 5 && tried.anyState > 2);
  });

  // Beside messages, settings are chosen by bounds that are safe and soon found: these must be what bounds says of them then.
  it('does what it says where there are heartbeats', () => {
    const heartbeats = { alertCooldown: '2h', heartbeatInterval: '6h' };
    const watch = { checkInterval: '30m', recheckInterval: '1m', ...heartbeats };
    expect(triedIn({ watch, sections: 'judge: { leaveOpenAfter: 40m }\n' })).toContain('anyState');
  });

  it('changes no setting that does not matter', () => {
    const watch = { checkInterval: '7m', recheckInterval: '20s', escalationThreshold: '1' };
    const { remedies } = boundsFor({ watch, sections: 'judge: { leaveOpenAfter: 3m }\n' });
    // One open check is enough, so that nothing is checked again after it.
    const keys = remedies.flatMap(({ changes }) => changes.map(({ key }) => key));
    expect(keys).toContain('checkInterval');
    expect(keys).not.toContain('recheckInterval');
  });

  it('keeps the recheck interval where a shorter cooldown alone helps from any state', () => {
    const watch = { checkInterval: '5m', recheckInterval: '1m', alertCooldown: '30m' };
    const sections = 'judge: { leaveOpenAfter: 10m, reportWithin: 20m, quietUpTo: 1m }\n';
    const { remedies } = boundsFor({
      watch: { ...watch, escalationThreshold: '{ open: 2, outOf: 3 }', clearThreshold: '2' },
      sections,
    });
    expect(remedies.map(({ changes }) => changes.map(({ key }) => key))).toContainEqual([
      'alertCooldown',
    ]);
    for (const { changes } of remedies) {
      expect(changes.map(({ key }) => key)).not.toContain('recheckInterval');
    }
  });

  it('names as a price what gets worse at rest for what gets better from any state', () => {
    const bounces = {
      watch: {
        checkInterval: '2m',
        recheckInterval: '50s',
        wakeOn: 'opening',
        escalationThreshold: '2',
        alertCooldown: '30m',
      },
      sections: 'judge: { leaveOpenAfter: 5m, quietUpTo: 90s }\n',
    };
    const { alwaysReportedFromMs, remedies } = boundsFor(bounces);
    const worse = remedies.filter(({ price: { atRest } }) => {
      const [now, then] = [atRest?.sureFromMs.now ?? 0, atRest?.sureFromMs.then ?? 0];
      return then > now;
    });
    expect(worse.length).toBeGreaterThan(0);
    for (const { price } of worse) {
      expect(price.atRest?.sureFromMs.now).toBe(alwaysReportedFromMs.atRest);
    }
    expect(triedIn(bounces)).toContain('anyState');
  });

  it('comes last with many more false alarms, and the plain words point to the prices', () => {
    const file = watchFileOf('watch: { checkInterval: 6m }\njudge: { leaveOpenAfter: 5m }\n');
    const ways = (perYear?: FalseAlarmsPerYear) => boundsOf(questionOf(file), perYear).remedies;
    const [first] = ways();
    expect(first?.changes.map(({ key }) => key)).toContain('wakeOn');
    const isNervous = (wakeOn: string): number => (wakeOn === 'timer' ? 2 : 50);
    const priced = boundsOf(questionOf(file), ({ wakeOn }) => isNervous(wakeOn));
    expect(priced.remedies[0]?.price.falseAlarmsPerYear).toEqual({ now: 2, then: 2 });
    expect(priced.remedies.at(-1)?.price.muchWorse).toContain('falseAlarms');
    expect(priced.advice).toContain('(prices below)');
    // One more in a month is not yet much worse, nor is twice as many.
    const [kept] = ways(({ wakeOn }) => (wakeOn === 'timer' ? 0 : 11.9));
    const [twice] = ways(({ wakeOn }) => (wakeOn === 'timer' ? 20 : 40));
    for (const one of [kept, twice]) expect(one?.price.muchWorse).not.toContain('falseAlarms');
  });

  it('says what it achieves: sure in time, or as quiet as required', () => {
    const adviceFor = (checkInterval: string, sections: string): string | null =>
      boundsFor({ watch: { checkInterval, recheckInterval: '20s', alertCooldown: '0s' }, sections })
        .advice;
    expect(adviceFor('3m', 'judge: { leaveOpenAfter: 3m }\n')).toMatch(
      /^An opening of 3 min may go unreported: .* To be sure from 3 min(?: at rest)?, set checkInterval: 2m30s/u,
    );
    expect(adviceFor('2m', 'judge: { leaveOpenAfter: 10m, quietUpTo: 1m }\n')).toMatch(
      /^No single opening of up to 1 min should raise an alert, .* To be quiet up to 1 min(?: at rest)?, set recheckInterval: /u,
    );
  });

  it('is also given for quietUpTo alone where only more changes meet all requirements, with the quietUpTo that is met now', () => {
    const adviceFor = (watch: Settings, quietUpTo: string): string =>
      boundsFor({ watch, sections: `judge: { leaveOpenAfter: 9m, quietUpTo: ${quietUpTo} }\n` })
        .advice ?? '';
    const quietWith = (watch: Settings, quietUpTo: string): Bounds =>
      boundsFor({ watch, sections: `judge: { leaveOpenAfter: 1d, quietUpTo: ${quietUpTo} }\n` });
    const watch = { checkInterval: '2m', escalationThreshold: '2' };
    // 9 min at once contradicts leaveOpenAfter, 8 min does not.
    for (const quietUpTo of ['8m', '9m']) {
      const text = adviceFor(watch, quietUpTo);
      const alone =
        /To meet quietUpTo alone, set (?<ways>[^.]*)\. As it is set, the watch meets quietUpTo: (?<met>[^\s.]*)\./u;
      const { ways = '', met = '' } = alone.exec(text)?.groups ?? {};
      expect(ways.split('; or ')).toHaveLength(2);
      for (const way of ways.split('; or ')) {
        const [, key = '', value = '', minutes = '', seconds = ''] =
          /^(\w+): (\w+) \(then sure from (\d+) min (\d+) s at rest\)$/u.exec(way) ?? [];
        const changed = quietWith({ ...watch, [key]: value }, quietUpTo);
        expect(changed.holds.quietUpTo.atRest, way).toBe(true);
        const sureMs = Number(minutes) * 60_000 + Number(seconds) * 1_000;
        expect(sureMs - (changed.alwaysReportedFromMs.atRest ?? 0)).toBeLessThan(1_000);
        expect(sureMs).toBeGreaterThanOrEqual(changed.alwaysReportedFromMs.atRest ?? 0);
      }
      expect(quietWith(watch, met).holds.quietUpTo.atRest).toBe(true);
    }
    expect(adviceFor(watch, '3m')).not.toContain('alone');
  });

  it('is sought for leaveOpenAfter alone where no setting meets reportWithin, and each gets its own reason', () => {
    const watch = { checkInterval: '3m', recheckInterval: '40s', escalationThreshold: '2' };
    const adviceIn = (environment: string, reset = ''): string =>
      boundsFor({
        watch,
        sections: `judge: { leaveOpenAfter: 3m, reportWithin: 12m }\nenvironment: ${environment}\n${reset}`,
      }).advice ?? '';
    const alone =
      /No setting meets reportWithin while a network outage may last 20 min\. leaveOpenAfter alone can be met at rest: set (?<ways>[^.]*)\./u;
    const ways = alone.exec(adviceIn('{ longestOutage: 20m }'))?.groups?.['ways'] ?? '';
    const changes = ways.split(' and ').map((way): [string, string] => {
      const [key = '', value = ''] = way.split(': ');
      return [key, value];
    });
    const then: Settings = { ...watch, ...Object.fromEntries(changes) };
    const sections = 'judge: { leaveOpenAfter: 3m }\nenvironment: { longestOutage: 20m }\n';
    expect(boundsFor({ watch: then, sections }).holds.leaveOpenAfter.atRest).toBe(true);
    expect(adviceIn('{ longestOutage: 20m, powerLosses: 1, powerLossLasting: 5m }')).toMatch(
      /No setting meets leaveOpenAfter while the power may be away for 5 min\. No setting meets reportWithin while a network outage may last 20 min\./u,
    );
  });

  it('names two faults that only together last so long that no setting helps', () => {
    const obstacleTo = (leaveOpenAfter: string) => {
      const file = watchFileOf(
        `judge: { leaveOpenAfter: ${leaveOpenAfter} }\nenvironment: { powerLosses: 1, powerLossLasting: 2m, longestChatter: 100s }\n`,
      );
      return obstacleOf('leaveOpenAfter', questionOf(file), 'atRest');
    };
    expect(obstacleTo('220s')?.why).toMatch(
      /power may be away .* and the contact .*, one after the other$/u,
    );
    expect(obstacleTo('220s')?.without.length).toBe(2);
    expect(obstacleTo('221s')).toBe(null);
    expect(obstacleTo('2m')?.without.length).toBe(1);
  });

  it('names every requirement that is not met, where an outage lets no setting meet it, and what the watch meets now', () => {
    const watch = { checkInterval: '4m', recheckInterval: '2m', alertCooldown: '20m' };
    const boundsIn = (judge: string): Bounds =>
      boundsFor({ watch, sections: `judge: ${judge}\nenvironment: { longestOutage: 1h }\n` });
    const { advice, holds, findings } = boundsIn('{ leaveOpenAfter: 10m, reportWithin: 15m }');
    expect(holds.leaveOpenAfter).toEqual({ atRest: true, anyState: false });
    expect(holds.reportWithin.atRest).toBe(false);
    const now =
      /watch meets reportWithin: (?<within>\w+) at rest\. An opening of 10 min .* meets leaveOpenAfter: (?<after>\w+)\. To see what settings alone can improve, search with longestOutage: 0s\.$/u;
    const { within = '', after = '' } = now.exec(advice ?? '')?.groups ?? {};
    const met = boundsIn(`{ leaveOpenAfter: ${after}, reportWithin: ${within} }`).holds;
    expect(met.leaveOpenAfter).toEqual({ atRest: true, anyState: true });
    expect(met.reportWithin.atRest).toBe(true);
    expect(findings.find(({ code }) => code === 'cooldown-hole')?.sentence).toMatch(
      /even without a network outage \(with it, this watch is sure from any state only from 1 h/u,
    );
  });
});

describe('what helps where nothing goes wrong', () => {
  /** Drawn watches with faults whose remedies are soon found, and some with none. */
  const drawn = [3, 11, 20, 33, 40, 59, 68, 92];

  it.each(drawn)('is also offered with faults if it helps with them: drawn watch %i', (index) => {
    const question = questionOf(watchFileOf(drawnWatch(index)));
    const { remedies, advice } = boundsOf(question);
    const calm = boundsOf({ ...question, environment: calmEnvironment });
    for (const { changes, holds: from, watch } of calm.remedies) {
      if (remedies.some(({ holds }) => holds === from)) continue;
      const { holds } = boundsOf({ ...question, program: compileWatch(watch) });
      const met = [holds.leaveOpenAfter[from], holds.reportWithin[from], holds.quietUpTo.atRest];
      expect(met, JSON.stringify(changes)).toContain(false);
    }
    expect(advice?.includes('None of the small changes')).toBe(advice?.includes('Tried: '));
  });

  // Shorter check intervals beside heartbeats used up the states of the whole search, and left none to try this with.
  it('is found where the search of several settings together is cut short', () => {
    const watch = {
      checkInterval: '10m',
      escalationThreshold: '1',
      alertCooldown: '30m',
      heartbeatInterval: '1h',
      recheckInterval: '1m',
    };
    const { remedies } = boundsFor({ watch, sections: 'judge: { leaveOpenAfter: 12m }\n' });
    expect(remedies.map(({ changes }) => changes)).toEqual([
      [{ key: 'alertCooldown', value: '10m' }],
    ]);
  });
});

describe('what keeps every setting from a requirement', () => {
  const quickest: Settings = {
    checkInterval: '10s',
    recheckInterval: '10s',
    escalationThreshold: '1',
    alertCooldown: '0s',
    unsentWhenShut: 'send',
  };
  const environments = fc
    .record({
      longestOutage: fc.constantFrom('0s', '2m', '5m'),
      outages: fc.constantFrom('1', '2'),
      powerLosses: fc.constantFrom('0', '1', '2'),
      powerLossLasting: fc.constantFrom('1m', '4m'),
      longestChatter: fc.constantFrom('0s', '2m', '5m'),
    })
    .map((keys) => {
      const entries = Object.entries(keys).filter(
        ([key]) =>
          (keys.longestOutage !== '0s' || key !== 'outages') &&
          (keys.powerLosses !== '0' || key !== 'powerLossLasting'),
      );
      return `{ ${entries.map(([key, value]) => `${key}: ${value}`).join(', ')} }`;
    });

  it('keeps the quickest settings from it', () => {
    const seen = { blocked: 0, free: 0 };
    const one = fc.record({
      environment: environments,
      minutes: fc.constantFrom(2, 4, 7, 10),
    });
    assertUntil(
      fc.property(one, ({ environment, minutes }) => {
        const limit = `${String(minutes)}m`;
        const sections = `judge: { leaveOpenAfter: ${limit}, reportWithin: ${limit} }\nenvironment: ${environment}\n`;
        const settings = Object.entries(quickest).map(([key, value]) => `  ${key}: ${value}\n`);
        const question = questionOf(watchFileOf(`watch:\n${settings.join('')}${sections}`));
        const { holds } = boundsOf(question);
        for (const key of ['leaveOpenAfter', 'reportWithin'] as const) {
          for (const from of ['atRest', 'anyState'] as const) {
            const obstacle = obstacleOf(key, question, from);
            if (obstacle === null) seen.free += 1;
            else {
              seen.blocked += 1;
              expect(holds[key][from], `${key} ${from} ${obstacle.why}`).toBe(false);
            }
          }
        }
      }),
      { numRuns: 12 },
      () => seen.blocked > 20 && seen.free > 10,
    );
  });
});
