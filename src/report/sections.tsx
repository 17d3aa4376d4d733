// The sections of a report.
import type { VNode } from 'preact';
import { figureOf, longestStripMs } from '../chart/index.js';
import { type Standing, settingTexts } from '../wording/index.js';
import type {
  Fact,
  Fitting,
  ReportBounds,
  ReportFinding,
  ReportInput,
  ReportPhases,
  ReportTimeline,
} from './input.js';
import { originFacts } from './report-timeline.js';

export function Facts({ facts }: { readonly facts: readonly Fact[] }): VNode {
  return (
    <dl>
      {facts.map(([name, value]) => (
        <>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </>
      ))}
    </dl>
  );
}

/** A picture laid out for each width; the style sheet shows one. */
export function FittingPicture(props: {
  readonly pictures: Fitting;
  readonly id: string;
  readonly name: string;
}): VNode {
  const { pictures, id, name } = props;
  const { page, middle, phone } = pictures;
  if (page === null || phone === null) return <Picture svg={middle} id={id} name={name} />;
  return (
    <>
      <div class="on-page">
        <Picture svg={page} id={id} name={name} />
      </div>
      <div class="on-middle">
        <Picture svg={middle} id={`${id}-middle`} name={name} />
      </div>
      <div class="on-phone">
        <Picture svg={phone} id={`${id}-phone`} name={name} />
      </div>
    </>
  );
}

/** A picture that may be wider than the screen: then it scrolls, by keyboard too. */
function Picture(props: {
  readonly svg: string;
  readonly id: string;
  readonly name: string;
}): VNode {
  const html = { __html: figureOf(props.svg, props.id) };
  return (
    <div
      class="wide"
      tabIndex={0}
      role="group"
      aria-label={props.name}
      dangerouslySetInnerHTML={html}
    />
  );
}

const kindWords: Readonly<Record<ReportFinding['kind'], readonly [words: string, look: string]>> = {
  missed: ['MISSED', 'bad-word'],
  late: ['late', 'late-word'],
  false: ['FALSE ALARM', 'false-word'],
};

export function TimelineSection(props: {
  readonly of: ReportTimeline;
  readonly index: number;
  readonly alone: boolean;
}): VNode {
  const { of, index, alone } = props;
  const { name } = of.timeline;
  return (
    <section aria-labelledby={`timeline-${index}`}>
      <h2 id={`timeline-${index}`}>
        {alone ? (
          'What happened'
        ) : (
          <>
            What happened: <span class="own-case">{name}</span>
          </>
        )}
      </h2>
      {alone ? null : <p class={verdictClass(of.standing)}>{of.verdict}</p>}
      <div id={`still-${index}`}>
        <FittingPicture
          pictures={of.overview}
          id={`overview-${index}`}
          name={`The timeline of ${name}, at a glance`}
        />
      </div>
      <div class="live-section">
        <p class="soft">
          {of.timeline.world.lengthMs > longestStripMs
            ? 'Press a row to open it. Its strip can be zoomed into.'
            : 'The strip can be zoomed into.'}
        </p>
        <div id={`live-${index}`}>
          <noscript>
            <p class="soft">
              Scripts are turned off here, so this picture stays still: turn them on to open its
              days.
            </p>
          </noscript>
        </div>
      </div>
      {of.aligned === null ? null : (
        <>
          <h3>Findings, aligned at the moment of opening</h3>
          <FittingPicture
            pictures={of.aligned}
            id={`aligned-${index}`}
            name="Findings, aligned at the moment of opening"
          />
        </>
      )}
      <FindingTable of={of} />
      <EveryPhase of={of} />
      <h3>In numbers</h3>
      <Facts facts={of.facts} />
      <Remarks of={of.remarks} />
    </section>
  );
}

function EveryPhase({ of }: { readonly of: ReportTimeline }): VNode {
  if (of.phases !== null) return <PhaseTable of={of.phases} />;
  return (
    <>
      <h3>At every phase of the checks</h3>
      <p>
        All this is of one phase of the checks. <PhasesLeftOut of={of} />
      </p>
    </>
  );
}

function Remarks({ of }: { readonly of: ReportTimeline['remarks'] }): VNode | null {
  if (of.length === 0) return null;
  return (
    <>
      <h3>On the input</h3>
      <ul>
        {of.map((remark) => (
          <li>{remark}</li>
        ))}
      </ul>
    </>
  );
}

/** The class of a verdict's box. */
export function verdictClass(standing: Standing): string {
  return standing === 'good' ? 'verdict' : `verdict ${standing}`;
}

/** That every phase was not judged, why, and what judges them. */
export function PhasesLeftOut({ of }: { readonly of: ReportTimeline }): VNode {
  return (
    <>
      The other phases were not judged here, since that takes long for this timeline:{' '}
      <code>{of.phasesCommand}</code>
    </>
  );
}

function PhaseTable({ of }: { readonly of: ReportPhases }): VNode {
  return (
    <>
      <h3>At every phase of the checks</h3>
      <p>
        {of.verdict} {of.span}
      </p>
      {of.rows.length === 0 ? null : (
        <div class="wide phases" tabIndex={0} role="group" aria-label="Every phase">
          <table>
            <thead>
              <tr>
                {of.columns.map((title) => (
                  <th scope="col">{title}</th>
                ))}
              </tr>
            </thead>
            <tbody>
              {of.rows.map((cells) => (
                <tr>
                  {cells.map((cell, index) => (
                    <td data-title={of.columns[index] ?? ''}>{cell}</td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      {of.moreRows === 0 ? null : <p class="soft">… and {of.moreRows} more.</p>}
    </>
  );
}

/** How many are on the page at once; the rest unfolds. */
const mostAtOnce = 8;

function FindingTable({ of }: { readonly of: ReportTimeline }): VNode | null {
  const { findings, moreFindings } = of;
  if (findings.length === 0) return null;
  const folded = findings.slice(mostAtOnce);
  return (
    <>
      <h3>Missed, late and false alarms, one by one</h3>
      <FindingRows name="Findings" findings={findings.slice(0, mostAtOnce)} />
      {folded.length === 0 ? null : (
        <details>
          <summary>… {folded.length} more (unfold to see and print them)</summary>
          <FindingRows name="More findings" findings={folded} />
        </details>
      )}
      {moreFindings === 0 ? null : <p class="soft">… and {moreFindings} more.</p>}
    </>
  );
}

function FindingRows(props: {
  readonly name: string;
  readonly findings: readonly ReportFinding[];
}): VNode {
  return (
    <div class="wide findings" tabIndex={0} role="group" aria-label={props.name}>
      <table>
        <thead>
          <tr>
            <th scope="col">finding</th>
            <th scope="col">when</th>
            <th scope="col">what</th>
            <th scope="col">why</th>
          </tr>
        </thead>
        <tbody>
          {props.findings.map(({ kind, when, what, why }) => (
            <tr>
              <td class={`word ${kindWords[kind][1]}`}>{kindWords[kind][0]}</td>
              <td>{when}</td>
              <td class="long">{what}</td>
              <td>{why ?? '(reasons are given for the first ones only)'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

export function BoundsSection({ of }: { readonly of: ReportBounds }): VNode {
  return (
    <section aria-labelledby="bounds">
      <h2 id="bounds">What you can rely on</h2>
      <p>{of.verdict}</p>
      <div class="wide" tabIndex={0} role="group" aria-label="Requirements">
        <table>
          <thead>
            <tr>
              <th scope="col">requirement</th>
              <th scope="col">at rest</th>
              <th scope="col">any state</th>
            </tr>
          </thead>
          <tbody>
            {of.asked.map(({ what, atRest, anyState }) => (
              <tr>
                <td>{what}</td>
                <td class={badIfNot(atRest)}>{atRest}</td>
                <td class={badIfNot(anyState)}>{anyState}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <ul>
        {of.points.map((point) => (
          <li>{point}</li>
        ))}
      </ul>
      <h3>Data sheet</h3>
      <SheetTable rows={of.sheet} />
      <h3>Chance of an alert, by the length of an opening</h3>
      <FittingPicture pictures={of.picture} id="detection" name="Detection curve and grey band" />
    </section>
  );
}

export function SheetTable({ rows }: { readonly rows: ReportBounds['sheet'] }): VNode {
  return (
    <div class="wide" tabIndex={0} role="group" aria-label="Data sheet">
      <table class="sheet">
        <thead>
          <tr>
            <th scope="col">symbol</th>
            <th scope="col" class="num">
              at rest
            </th>
            <th scope="col" class="num">
              any state
            </th>
            <th scope="col">unit</th>
            <th scope="col">meaning</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ symbol, atRest, anyState, unit, meaning }) => (
            <tr>
              <th scope="row">{symbol}</th>
              <td class="num">{atRest}</td>
              <td class="num">{anyState}</td>
              <td class="word">{unit}</td>
              <td>{meaning}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

export function BatterySection({
  of,
}: {
  readonly of: NonNullable<ReportInput['battery']>;
}): VNode {
  return (
    <section aria-labelledby="battery">
      <h2 id="battery">Battery</h2>
      <Facts facts={of.facts} />
      <FittingPicture pictures={of.picture} id="charge" name="Where the charge goes" />
    </section>
  );
}

export function OriginSection({ input }: { readonly input: ReportInput }): VNode {
  return (
    <section aria-labelledby="origin">
      <h2 id="origin">Settings, and how to get this again</h2>
      <Facts facts={settingTexts(input.watchFile).map(({ key, text }) => [key, text] as const)} />
      <h3>Made from</h3>
      <Facts facts={originFacts(input.timelines, input)} />
      <h3>The same again</h3>
      <pre>{input.commandLine}</pre>
    </section>
  );
}

/** The class of a cell that says whether a requirement is met. */
function badIfNot(answer: string): string {
  return answer.startsWith('NOT ') ? 'bad-word' : '';
}
