// The figures that stay in sight while a hand moves: what is proved, what the week did, how long a charge lasts.
import type { VNode } from 'preact';
import { roundedDurationText, type Said, sentence } from '../../base/index.js';
import { lifeRangeText } from '../../battery/index.js';
import { provedFrom } from '../../bounds/index.js';
import { renewalOf, unpainted, verdictStanding, verdictWords } from '../../wording/index.js';
import { knownFrom, type Plan } from '../plan.js';
import { Ruler } from './ruler.js';
import { spokenText } from './spoken.js';

const none = '–';

/** On a phone the strip that stays in sight has two figures: these. */
function classOf(name: string, isBad: boolean): string {
  const brief = name === 'sure from' || name === 'missed leave-opens' ? ' brief' : '';
  return `figure${brief}${isBad ? ' bad' : ''}`;
}

interface Row {
  readonly name: string;
  readonly value: string;
  readonly isBad: boolean;
}

function rowsOf({ bounds, battery, scene, watchFile }: Plan): readonly Row[] {
  const { missed, late, falseAlarms, leaveOpens } = scene.verdict.summary;
  const time = (ms: number | null | undefined, said: Said = 'at most'): string =>
    ms === null || ms === undefined || ms === Number.POSITIVE_INFINITY
      ? none
      : roundedDurationText(ms, said);
  const sure = bounds?.alwaysReportedFromMs.atRest;
  const decided = bounds?.alwaysDecidedFromMs.atRest;
  const { leaveOpenAfterMs } = watchFile.judge;
  const unsure =
    bounds !== null && (sure === null || sure === undefined || sure > leaveOpenAfterMs);
  const row = (name: string, value: string, isBad = false): Row => ({ name, value, isBad });
  return [
    row('sure from', time(sure), unsure),
    ...(decided === sure ? [] : [row('an alert decided from', time(decided))]),
    row('sure from, any state', time(bounds?.alwaysReportedFromMs.anyState)),
    row('quiet up to', time(bounds?.neverAlarmedUpToMs, 'at least')),
    row('reported within', time(bounds?.worstDelayMs.atRest)),
    row(renewalOf(watchFile.supply).lasts, battery === null ? none : lifeRangeText(battery.quiet)),
    row('missed leave-opens', `${missed} of ${leaveOpens}`, missed > 0),
    row('late', String(late), late > 0),
    row('false alarms', String(falseAlarms), falseAlarms > 0),
  ];
}

export function Readings(props: {
  readonly plan: Plan;
  /** The plan before the last change. */
  readonly before: Plan | undefined;
  readonly stale: boolean;
}): VNode {
  const { plan, before, stale } = props;
  const { scene, watchFile, bounds } = plan;
  const rows = rowsOf(plan);
  const were = new Map(
    (before === undefined ? [] : rowsOf(before)).map((row) => [row.name, row.value]),
  );
  const wasOf = (row: Row): string | null => {
    const was = were.get(row.name);
    return was === undefined || was === row.value ? null : was;
  };
  const { verdict, timeline } = scene;
  const proved = provedFrom(plan.question, knownFrom(bounds));
  const words = sentence(verdictWords({ verdict, timeline, proved, watchFile }, unpainted));
  const standing = verdictStanding({ verdict, proved, timeline }, true);
  const changed = rows.find((row) => wasOf(row) !== null);
  return (
    <div class={stale ? 'readings stale' : 'readings'}>
      <dl class={rows.length > 8 ? 'figures nine' : 'figures'}>
        {rows.map((row) => {
          const was = wasOf(row);
          return (
            <div class={classOf(row.name, row.isBad)}>
              <dt>{row.name}</dt>
              <dd data-figure={row.name}>{row.value}</dd>
              <dd class="was">{was === null ? '\u00a0' : `was ${was}`}</dd>
            </div>
          );
        })}
      </dl>
      <p class="only-heard" role="status">
        {changed === undefined ? '' : `${changed.name} ${spokenText(changed.value)}`}
      </p>
      <p class={`two-parts ${standing}`} data-verdict={standing}>
        {words}
      </p>
      {plan.bar === null ? null : <Ruler bar={plan.bar} before={before?.bar ?? null} />}
    </div>
  );
}
