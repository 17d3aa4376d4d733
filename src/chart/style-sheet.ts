// The style sheet of a picture. Every class starts with `dw-`, so that it keeps to itself inside a page.
import { fontFaces, fontFamily, type Theme } from './theme.js';

/** A rule: fill, and where there is one, stroke with its width. */
type Look = readonly [fill: string, stroke?: string, strokePx?: number];

function looksOf(theme: Theme): Readonly<Record<string, Look>> {
  const { paper, ink, soft, known, power, missed, falseAlarm, late, early, reported } = theme;
  return {
    paper: [paper],
    panel: [theme.panel],
    rule: ['none', theme.rule, 1],
    axis: ['none', soft, 1],
    month: ['none', soft, 1],
    repeated: ['none', soft, 0.8],
    'ink-line': ['none', ink, 1],
    'worst-line': ['none', ink, 1.5],
    arrow: [ink],
    tag: [ink],
    'badge-glyph': [theme.onBadge],
    'fill-missed': [missed],
    'fill-false': [falseAlarm],
    brief: [theme.brief],
    reported: [reported],
    late: ['url(#dw-p-late)', late, 1],
    undecided: ['url(#dw-p-undecided)', theme.undecided, 1],
    unknown: ['url(#dw-p-undecided)', theme.undecided, 1],
    missed: ['url(#dw-p-missed)', missed, 1],
    'reads-open': [known],
    disc: [paper],
    'm-missed': [missed],
    'm-false': [falseAlarm, paper, 2.4],
    'm-late': [late, paper, 2],
    'm-true': [reported, paper, 1.6],
    'm-early': [early, paper, 1.6],
    'm-repeat': [paper, reported, 1.3],
    'm-undecided': [paper, theme.undecided, 1.5],
    'm-unknown': [paper, theme.undecided, 1.5],
    'check-open': [known, known, 1.4],
    'check-shut': ['none', theme.brief, 1.3],
    'check-run-open': [known],
    'check-run-shut': [theme.brief],
    'check-wrong': ['none', ink, 1.2],
    'contact-wake': [known],
    'pip-open': [known],
    'pip-shut': [paper, known, 1],
    'shut-run': ['none', known, 1],
    memory: [theme.knownTint],
    pending: ['url(#dw-p-pending)', known, 0.8],
    delivered: [reported],
    failed: ['none', missed, 1.8],
    'failed-tick': ['none', missed, 1],
    'cut-off': [paper, late, 1.4],
    heartbeat: [paper, early, 1.3],
    'low-battery': [paper, power, 1.4],
    cooldown: ['url(#dw-p-cooldown)', theme.cooldown, 1],
    held: [theme.knownTint, known, 1],
    network: ['url(#dw-p-network)'],
    'network-cap': [theme.network],
    power: ['url(#dw-p-power)'],
    'power-cap': [power],
    reset: ['none', power, 1.3],
    void: ['url(#dw-p-void)'],
    told: [reported],
    'false-share': ['url(#dw-p-false)'],
    'grey-band': [soft],
    'behind-words': [paper],
    'comb-missed': ['url(#dw-p-missed)', missed, 1],
    'comb-reported': [reported],
    ...askedLooks(theme),
    ...barLooks(theme),
  };
}

/** Of the bar never, maybe, always, and of a day's charge. */
function barLooks({
  panel,
  ink,
  soft,
  early,
  cooldown,
  reported,
}: Theme): Readonly<Record<string, Look>> {
  return {
    'bar-never': [panel, soft, 0.5],
    'bar-maybe': [soft],
    'bar-always': [reported],
    'use-sleep': [cooldown],
    'use-heartbeat': [early],
    'key-box': ['none', ink, 1],
  };
}

/** Of curves, and of a requirement in one. */
function askedLooks({ soft, missed, paper, reported }: Theme): Readonly<Record<string, Look>> {
  return {
    curve: ['none', reported, 2],
    thread: ['none', soft, 1],
    'curve-most': ['none', reported, 1.2],
    'curve-ghost': ['none', soft, 1.6],
    'asked-line': ['none', soft, 1],
    'asked-missed': [missed, paper, 2],
    'asked-told': [reported, paper, 2],
  };
}

function textColours(theme: Theme): Readonly<Record<string, string>> {
  return {
    soft: theme.soft,
    'on-badge': theme.onBadge,
    't-missed': theme.missed,
    't-false': theme.falseAlarm,
    't-late': theme.late,
    't-undecided': theme.undecided,
    't-unknown': theme.undecided,
    't-early': theme.early,
    't-reported': theme.reported,
    't-worst': theme.reported,
    't-known': theme.known,
    't-network': theme.network,
    't-power': theme.power,
  };
}

function rule(name: string, [fill, stroke, strokePx]: Look): string {
  const line = stroke === undefined ? '' : `;stroke:${stroke};stroke-width:${strokePx ?? 1}`;
  return `.dw-${name}{fill:${fill}${line}}`;
}

export function styleSheet(theme: Theme): string {
  const { ink, paper, reported, falseAlarm, early } = theme;
  const unsent = { true: reported, repeat: reported, false: falseAlarm, early };
  return [
    fontFaces,
    `.dw text{font-family:${fontFamily};font-variant-numeric:tabular-nums;fill:${ink};font-size:11px}`,
    ...Object.entries(looksOf(theme)).map(([name, look]) => rule(name, look)),
    '.dw-mark{paint-order:stroke;stroke-linejoin:round}',
    '.dw-m-false{fill-rule:evenodd}.dw-crowd{fill-rule:nonzero}',
    '.dw-dense-1{fill-opacity:.2}.dw-dense-2{fill-opacity:.34}.dw-dense-3{fill-opacity:.48}.dw-dense-4{fill-opacity:.62}',
    '.dw-held,.dw-reset{stroke-dasharray:3 2}',
    '.dw-curve-most,.dw-asked-line{stroke-dasharray:4 3}.dw-curve-ghost{stroke-dasharray:2 3}.dw-thread{stroke-opacity:.45}.dw-open-path{fill:none}',
    '.dw-curve,.dw-curve-most{stroke-linejoin:round}',
    '.dw-told{fill-opacity:.18}.dw-grey-band{fill-opacity:.14}.dw-bar-maybe{fill-opacity:.32}.dw-use-sleep{fill-opacity:.55}',
    ...Object.entries(unsent).map(
      ([kind, colour]) =>
        `.dw-unsent.dw-m-${kind}{fill:${paper};stroke:${colour};stroke-width:1.6;paint-order:normal}`,
    ),
    ...Object.entries(textColours(theme)).map(
      ([name, fill]) => `.dw text.dw-${name},.dw tspan.dw-${name}{fill:${fill}}`,
    ),
    '.dw .dw-bold{font-weight:600}',
    `.dw .dw-halo{paint-order:stroke;stroke:${paper};stroke-width:3px;stroke-linejoin:round}`,
  ].join('\n');
}
