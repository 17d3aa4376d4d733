// The figures that stay in sight while a hand moves: what is proved, what the week did, how long a charge lasts.
import type { VNode } from 'preact';
import { durationText, sentence } from '../../base/index.js';
import { lifeText } from '../../battery/index.js';
import { provedFrom } from '../../bounds/index.js';
import { unpainted, verdictStanding, verdictWords } from '../../wording/index.js';
import { knownFrom, type Plan } from '../plan.js';
import { Ruler } from './ruler.js';

const none = '–';

/** On a phone the strip that stays in sight has two figures: these. */
function classOf(name: string, isBad: boolean): string {
  const brief = name === 'sure from' || name.startsWith('missed') ? ' brief' : '';
  return `figure${brief}${isBad ? ' bad' : ''}`;
}

export function Readings(props: { readonly plan: Plan; readonly stale: boolean }): VNode {
  const { plan, stale } = props;
  const { bounds, battery, scene, watchFile } = plan;
  const { missed, late, falseAlarms, leaveOpens } = scene.verdict.summary;
  const time = (ms: number | null | undefined): string =>
    ms === null || ms === undefined || ms === Number.POSITIVE_INFINITY ? none : durationText(ms);
  const sure = bounds?.alwaysReportedFromMs.atRest;
  const decided = bounds?.alwaysDecidedFromMs.atRest;
  const { leaveOpenAfterMs } = watchFile.judge;
  const unsure =
    bounds !== null && (sure === null || sure === undefined || sure > leaveOpenAfterMs);
  const rows: readonly (readonly [name: string, value: string, isBad: boolean])[] = [
    ['sure from', time(sure), unsure],
    ...(decided === sure ? [] : [['an alert decided from', time(decided), false] as const]),
    ['sure from, any state', time(bounds?.alwaysReportedFromMs.anyState), false],
    ['quiet up to', time(bounds?.neverAlarmedUpToMs), false],
    ['reported within', time(bounds?.worstDelayMs.atRest), false],
    ['a charge lasts', battery === null ? none : lifeText(battery.quiet.lifeMs), false],
    [`missed, of ${leaveOpens} leave-opens`, String(missed), missed > 0],
    ['late', String(late), late > 0],
    ['false alarms', String(falseAlarms), falseAlarms > 0],
  ];
  const { verdict, timeline } = scene;
  const proved = provedFrom(plan.question, knownFrom(bounds));
  const words = sentence(verdictWords({ verdict, timeline, proved, watchFile }, unpainted));
  const standing = verdictStanding({ verdict, proved, timeline }, true);
  return (
    <div class={stale ? 'readings stale' : 'readings'}>
      <dl class="figures" aria-live="polite">
        {rows.map(([name, value, isBad]) => (
          <div class={classOf(name, isBad)}>
            <dt>{name}</dt>
            <dd data-figure={name}>{value}</dd>
          </div>
        ))}
      </dl>
      <p class={`two-parts ${standing}`} data-verdict={standing}>
        {words}
      </p>
      {plan.bar === null ? null : <Ruler bar={plan.bar} />}
    </div>
  );
}
