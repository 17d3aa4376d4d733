// The bar of lengths as a block of a picture: a sentence, and below it never, maybe, always with their borders and a flag
// at the limit that counts as left open.
import type { VNode } from 'preact';
import { durationText, roundedDurationText } from '../../base/index.js';
import type { LengthBar } from '../../wording/index.js';
import { At, Bar, type Block, Shape, Words } from '../drawing.js';
import { px } from '../numbers.js';
import { textWidth, wrapText } from '../text.js';

const sentenceFont = { sizePx: 16, bold: true };
const sentenceLinePx = 22;
const wordsFont = { sizePx: 11 };
const boldFont = { sizePx: 11, bold: true };
const captionPx = 18;
const captionLinePx = 15;
/** Fonts of a system where Inter is missing are up to this much wider. */
const widerFonts = 1.1;
const flagPx = 18;
const barPx = 16;
const wordsPx = 20;

interface Zone {
  readonly kind: string;
  readonly name: string;
  readonly fromMs: number;
  readonly toMs: number;
}

export function lengthBarBlock(bar: LengthBar, widthPx: number): Block {
  const lines = wrapText(bar.sentence, widthPx, { font: sentenceFont, mostLines: 3 });
  const captionY = lines.length * sentenceLinePx + 12;
  const caption = wrapText(bar.caption, widthPx / widerFonts, { font: wordsFont, mostLines: 2 });
  const barY = captionY + captionPx + (caption.length - 1) * captionLinePx + flagPx;
  return {
    height: barY + barPx + wordsPx,
    node: (
      <g>
        {lines.map((line, index) => (
          <Words
            x={0}
            y={17 + index * sentenceLinePx}
            size={sentenceFont.sizePx}
            class={`dw-bold${bar.isMet === false ? ' dw-t-missed' : ''}`}
          >
            {line}
          </Words>
        ))}
        {caption.map((line, index) => (
          <Words x={0} y={captionY + 11 + index * captionLinePx} class="dw-soft">
            {line}
          </Words>
        ))}
        <At x={0} y={barY}>
          <Zones bar={bar} widthPx={widthPx} />
          <Borders bar={bar} widthPx={widthPx} />
          <LimitFlag bar={bar} widthPx={widthPx} />
        </At>
      </g>
    ),
  };
}

interface Props {
  readonly bar: LengthBar;
  readonly widthPx: number;
}

function zonesOf({ quietMs, sureMs, endMs }: LengthBar): readonly Zone[] {
  const quiet = quietMs ?? endMs;
  const sure = Math.max(quiet, sureMs ?? endMs);
  const zones = [
    { kind: 'bar-never', name: 'never', fromMs: 0, toMs: quiet },
    { kind: 'bar-maybe', name: 'maybe', fromMs: quiet, toMs: sure },
    { kind: 'bar-always', name: 'always', fromMs: sure, toMs: endMs },
  ];
  return zones.filter(({ fromMs, toMs }) => toMs > fromMs);
}

function Zones({ bar, widthPx }: Props): VNode {
  const x = (ms: number): number => (ms / bar.endMs) * widthPx;
  return (
    <g>
      {zonesOf(bar).map(({ kind, name, fromMs, toMs }) => {
        const width = x(toMs) - x(fromMs);
        return (
          <g>
            <Bar
              x={x(fromMs)}
              y={0}
              width={width}
              height={barPx}
              class={`dw-${kind}`}
              title={zoneTitle({ name, fromMs, toMs }, bar)}
            />
            {width < textWidth(name, boldFont) + 8 ? null : (
              <Words
                x={nameX(name, { left: x(fromMs), width }, x(bar.leaveOpenMs))}
                y={12}
                anchor="middle"
                class={`dw-bold${kind === 'bar-always' ? ' dw-on-badge' : ''}`}
              >
                {name}
              </Words>
            )}
          </g>
        );
      })}
    </g>
  );
}

/** The axis ends somewhere: a zone that goes on beyond it has no end. */
function zoneTitle(
  { name, fromMs, toMs }: { readonly name: string; readonly fromMs: number; readonly toMs: number },
  { endMs }: LengthBar,
): string {
  const isLast = toMs === endMs;
  // A zone in which something is sure is said to be no wider than it is.
  const isSure = name !== 'maybe';
  const from = roundedDurationText(fromMs, isSure ? 'at most' : 'at least');
  const to = roundedDurationText(toMs, isSure ? 'at least' : 'at most');
  if (fromMs === 0) return isLast ? `${name}, however long` : `${name}: up to ${to}`;
  return isLast ? `${name}: ${from} or longer` : `${name}: ${from} to ${to}`;
}

/** The middle of a zone, or of the larger part of it beside the flag that would strike its name. */
function nameX(
  name: string,
  { left, width }: { readonly left: number; readonly width: number },
  flagX: number,
): number {
  const middle = left + width / 2;
  const half = textWidth(name, boldFont) / 2 + 6;
  if (Math.abs(flagX - middle) > half) return middle;
  const right = left + width;
  return flagX - left > right - flagX ? (left + flagX) / 2 : (flagX + right) / 2;
}

/** The borders in words below the bar, apart from each other. */
function Borders({ bar, widthPx }: Props): VNode {
  const { quietMs, sureMs, endMs } = bar;
  const x = (ms: number): number => (ms / endMs) * widthPx;
  const quiet = quietMs === null || quietMs === 0 ? null : roundedDurationText(quietMs, 'at least');
  const sure = sureMs === null ? null : roundedDurationText(sureMs, 'at most');
  const quietRoom = quiet === null ? 0 : textWidth(quiet, wordsFont);
  const quietX = Math.max(quietRoom, x(quietMs ?? 0));
  const sureX = Math.min(
    widthPx - (sure === null ? 0 : textWidth(sure, wordsFont)),
    Math.max(x(sureMs ?? 0), quiet === null ? 0 : quietX + 12),
  );
  return (
    <g>
      {quiet === null ? null : (
        <Words x={quietX} y={barPx + 14} anchor="end" class="dw-soft">
          {quiet}
        </Words>
      )}
      {sure === null ? null : (
        <Words x={sureX} y={barPx + 14} class="dw-soft">
          {sure}
        </Words>
      )}
    </g>
  );
}

function LimitFlag({ bar, widthPx }: Props): VNode {
  const { leaveOpenMs, endMs, isMet } = bar;
  const x = (leaveOpenMs / endMs) * widthPx;
  const words = `left open from ${durationText(leaveOpenMs)}`;
  const right = x + 8 + textWidth(words, boldFont) <= widthPx;
  return (
    <g>
      <Shape class="dw-worst-line" d={`M${px(x)} ${-flagPx + 4}V${barPx + 3}`} />
      <Words
        x={right ? x + 6 : x - 6}
        y={-flagPx + 13}
        {...(right ? {} : { anchor: 'end' as const })}
        class={`dw-bold${isMet === false ? ' dw-t-missed' : ''}`}
      >
        {words}
      </Words>
    </g>
  );
}
