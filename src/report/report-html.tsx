// A whole report as one HTML file that asks nothing of anybody: no request, no other file.
import { hiddenPatterns, markupOf } from '../chart/index.js';
import type { Standing } from '../wording/index.js';
import { encodedData, packedData } from './data/encode.js';
import type { ReportInput, ReportTimeline } from './input.js';
import { loader, type PageScript } from './page-script.js';
import {
  BatterySection,
  BoundsSection,
  FittingPicture,
  OriginSection,
  PhasesLeftOut,
  TimelineSection,
  verdictClass,
} from './sections.js';
import { reportStyle } from './style.js';

/** Longer data is packed: of a year with 300 openings a day to a third. */
const mostPlainChars = 50_000;

/** The phase of the checks is dozewatch's choice. */
function isAssumed({ timeline }: ReportTimeline): boolean {
  return timeline.logged?.powerOnIsAssumed === true;
}

/** A sentence behind a colon; words in capitals stay. */
function withoutCapital(sentence: string): string {
  return sentence.replace(/^\p{Lu}(?=\p{Ll}|\s)/u, (letter) => letter.toLowerCase());
}

export function reportHtml(input: ReportInput): string {
  const { timelines, watchFile, script, title, bar, bounds, battery, pack } = input;
  const [first] = timelines;
  const alone = timelines.length === 1;
  const body = markupOf(
    <>
      {hiddenPatterns()}
      <main>
        <h1>{title}</h1>
        {alone && first !== undefined ? (
          <p class={verdictClass(first.standing)}>
            <strong>{first.verdict}</strong>
            {isAssumed(first) ? (
              <>
                {' '}
                That is one phase of the checks, since the log does not show when the device was
                powered on.{' '}
                {first.phases === null ? (
                  <PhasesLeftOut of={first} />
                ) : (
                  `Over all phases: ${withoutCapital(first.phases.verdict)}`
                )}
              </>
            ) : null}
          </p>
        ) : (
          <p class={verdictClass(worstOf(timelines.map(({ standing }) => standing)))}>
            <strong>
              In {timelines.filter(({ isClean }) => isClean).length} of {timelines.length} timelines
              no leave-open was missed or late and no alarm was false, at the one phase of the
              checks that was replayed.
            </strong>
            {timelines.map((of) =>
              of.phases?.isSame === true ? null : (
                <>
                  <br />
                  {of.phases === null ? (
                    <>
                      {of.timeline.name}: <PhasesLeftOut of={of} />
                    </>
                  ) : (
                    `${of.timeline.name}, over all phases: ${withoutCapital(of.phases.verdict)}`
                  )}
                </>
              ),
            )}
          </p>
        )}
        {bar === null ? null : (
          <FittingPicture pictures={bar} id="lengths" name="Never, maybe, always" />
        )}
        {timelines.map((of, index) => (
          <TimelineSection of={of} index={index} alone={alone} />
        ))}
        {bounds === null ? null : <BoundsSection of={bounds} />}
        {battery === null ? null : <BatterySection of={battery} />}
        <OriginSection input={input} />
        <footer>{input.caution}</footer>
      </main>
    </>,
  );
  const text = encodedData({
    timelines: timelines.map(({ timeline }) => ({
      timeline: { ...timeline, remarks: [] },
      watchFile,
    })),
  });
  const data = pack !== null && text.length > mostPlainChars ? packedData(pack(text)) : text;
  return htmlDocument({ title, style: reportStyle(), body, data, script });
}

function worstOf(standings: readonly Standing[]): Standing {
  if (standings.includes('bad')) return 'bad';
  return standings.includes('doubtful') ? 'doubtful' : 'good';
}

/** A page with a policy that lets nothing in but what it carries. */
export function htmlDocument(page: {
  readonly title: string;
  readonly style: string;
  readonly body: string;
  /** JSON without a `<`. */
  readonly data: string;
  readonly script: PageScript;
}): string {
  const { title, style, body, data, script } = page;
  const policy = [
    "default-src 'none'",
    `script-src ${script.allowed}`,
    "style-src 'unsafe-inline'",
    'img-src data:',
    'worker-src blob:',
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
${markupOf(<title>{title}</title>)}
<style>${style}</style>
</head>
<body>
${body}
<script type="application/json" id="dw-data">${data}</script>
<script type="text/plain" id="dw-packed">${script.packed}</script>
<script>${loader}</script>
</body>
</html>
`;
}
