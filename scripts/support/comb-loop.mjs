// A short silent loop for the README: the checks as a comb that slides under an opening of 3 min. It takes its style from the
// picture of bounds and its numbers from their JSON. Its attributes are the picture at rest, for readers who want no motion and for
// programs that know none; the style sets it in motion.

const widthPx = 860;
const plotPx = 600;
const leftPx = 20;
const doorY = 64;
const doorPx = 18;
const spineY = doorY + doorPx + 6;
const stripY = 148;
const stripPx = 14;
const loopS = 9;
/** Where it stands without motion, as a share of the way. */
const stillShare = 0.7;

/**
 * @param {object} from
 * @param {string} from.picture of the same watch, by `bounds --chart`
 * @param {{ neverAlarmedUpToMs: number, alwaysReportedFromMs: { atRest: number } }} from.bounds of a watch that its timer wakes
 * @param {number} from.lengthMs of the opening
 * @param {string} from.sentence
 */
export function combLoop({ picture, bounds, lengthMs, sentence }) {
  const quietMs = bounds.neverAlarmedUpToMs;
  const periodMs = bounds.alwaysReportedFromMs.atRest - quietMs;
  const share = (lengthMs - quietMs) / periodMs;
  const [style = ''] = /<style>[\s\S]*?<\/style>/u.exec(picture) ?? [];
  const [defs = ''] = /<defs>[\s\S]*?<\/defs>/u.exec(picture) ?? [];
  const px = plotPx / (lengthMs + 2.4 * periodMs);
  const doorX = leftPx + 1.2 * periodMs * px;
  const doorWidth = lengthMs * px;
  const periodPx = periodMs * px;
  const percent = (100 * share).toFixed(1);
  const teeth = (/** @type {string} */ kind, /** @type {number} */ wide) =>
    Array.from({ length: 6 }, (_, index) => {
      const x = doorX + (index - 3) * periodPx - wide / 2;
      return `<rect class="${kind}" x="${x.toFixed(1)}" y="${spineY}" width="${wide}" height="14"/>`;
    }).join('');
  const outcome = (/** @type {string} */ kind, /** @type {string} */ words) =>
    `<g class="${kind}" opacity="${(kind === 'reported') === (stillShare < share) ? 1 : 0}"><rect class="dw-comb-${kind}" x="${doorX.toFixed(1)}" y="${doorY}" width="${doorWidth.toFixed(1)}" height="${doorPx}"/>` +
    `<text class="dw-bold dw-t-${kind}" x="${leftPx + plotPx + 16}" y="${doorY + 16}">${words}</text></g>`;
  const stripWidth = widthPx - 2 * leftPx;
  const motion =
    `.slide{animation:slide ${loopS}s linear infinite}.mark{animation:mark ${loopS}s linear infinite}` +
    `.reported{animation:reported ${loopS}s linear infinite}.missed{animation:missed ${loopS}s linear infinite}` +
    `@keyframes slide{from{transform:translateX(0)}to{transform:translateX(${periodPx.toFixed(1)}px)}}` +
    `@keyframes mark{from{transform:translateX(0)}to{transform:translateX(${stripWidth}px)}}` +
    `@keyframes reported{0%,${percent}%{opacity:1}${(100 * share + 0.1).toFixed(1)}%,100%{opacity:0}}` +
    `@keyframes missed{0%,${percent}%{opacity:0}${(100 * share + 0.1).toFixed(1)}%,100%{opacity:1}}` +
    `@media (prefers-reduced-motion:reduce){.slide,.mark,.reported,.missed{animation:none}}`;
  const slid = `class="slide" transform="translate(${(stillShare * periodPx).toFixed(1)} 0)"`;
  const marked = `class="mark" transform="translate(${(stillShare * stripWidth).toFixed(1)} 0)"`;
  return `<svg xmlns="http://www.w3.org/2000/svg" class="dw" viewBox="0 0 ${widthPx} 196" width="${widthPx}" height="196" role="img" aria-labelledby="t">
<title id="t">${sentence} The checks are a comb: at ${percent} % of its positions two teeth fall inside the opening, at the others one.</title>
${style}
<style>${motion}</style>
${defs}
<clipPath id="inside"><rect x="${doorX.toFixed(1)}" y="0" width="${doorWidth.toFixed(1)}" height="140"/></clipPath>
<clipPath id="plot"><rect x="${leftPx}" y="0" width="${plotPx}" height="140"/></clipPath>
<rect class="dw-paper" width="${widthPx}" height="196"/>
<text class="dw-bold" x="${leftPx}" y="28" style="font-size:17px">${sentence}</text>
${outcome('reported', '2 of 2 checks inside: reported')}
${outcome('missed', '1 of 2 checks inside: missed')}
<path class="dw-axis" d="M${leftPx} ${spineY}H${leftPx + plotPx}"/>
<g clip-path="url(#plot)"><g ${slid}>${teeth('dw-check-run-shut', 2)}</g></g>
<g clip-path="url(#inside)"><g ${slid}>${teeth('dw-check-run-open', 5)}</g></g>
<text class="dw-soft" x="${leftPx}" y="${stripY - 8}">All positions of the comb of checks, each equally likely</text>
<rect class="dw-comb-reported" x="${leftPx}" y="${stripY}" width="${(stripWidth * share).toFixed(1)}" height="${stripPx}"/>
<rect class="dw-comb-missed" x="${(leftPx + stripWidth * share).toFixed(1)}" y="${stripY}" width="${(stripWidth * (1 - share)).toFixed(1)}" height="${stripPx}"/>
<g ${marked}><path class="dw-worst-line" d="M${leftPx} ${stripY - 4}v${stripPx + 8}"/></g>
<text class="dw-bold dw-t-reported" x="${leftPx}" y="${stripY + stripPx + 16}">reported: ${percent} %</text>
<text class="dw-bold dw-t-missed" x="${widthPx - leftPx}" y="${stripY + stripPx + 16}" text-anchor="end">missed: ${(100 - 100 * share).toFixed(1)} %</text>
</svg>
`;
}
