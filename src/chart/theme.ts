// Colours and type. Grey is the door going about its day, blue is what was reported, indigo what the device knows;
// red and magenta are kept for what must leap to the eye. Nothing is shown by colour alone: each kind has a shape or
// a pattern too. Text stands at 4.5:1 or better against what is behind it, marks at 3:1.

/** `page`: colours are variables of the page that the picture stands in. */
export type ThemeName = 'light' | 'dark';
export type PictureTheme = ThemeName | 'page';

export interface Theme {
  readonly paper: string;
  /** Behind a row or a strip. */
  readonly panel: string;
  readonly ink: string;
  /** Secondary text. */
  readonly soft: string;
  /** Hairlines that only guide the eye. */
  readonly rule: string;
  readonly brief: string;
  readonly reported: string;
  readonly late: string;
  readonly undecided: string;
  readonly missed: string;
  readonly falseAlarm: string;
  readonly early: string;
  /** What the device knows: open checks and memory. */
  readonly known: string;
  /** The same, as a tint under marks. */
  readonly knownTint: string;
  readonly cooldown: string;
  readonly network: string;
  readonly power: string;
  /** Text on a filled badge. */
  readonly onBadge: string;
}

const light: Theme = {
  paper: '#fdfdfb',
  panel: '#f3f4f1',
  ink: '#18222c',
  soft: '#54606c',
  rule: '#d9dcd8',
  brief: '#74808c',
  reported: '#0b6e8f',
  late: '#945600',
  undecided: '#54606c',
  missed: '#c4161c',
  falseAlarm: '#97189a',
  early: '#23744d',
  known: '#4150b5',
  knownTint: '#dde0f6',
  cooldown: '#5a7ba0',
  network: '#866600',
  power: '#454f5a',
  onBadge: '#ffffff',
};

const dark: Theme = {
  paper: '#10161c',
  panel: '#18212a',
  ink: '#e9eef2',
  soft: '#a3b1be',
  rule: '#2d3944',
  brief: '#7f8d9a',
  reported: '#4fb6dc',
  late: '#e3a53d',
  undecided: '#a3b1be',
  missed: '#ff6f66',
  falseAlarm: '#e584ea',
  early: '#58c08c',
  known: '#98a6f7',
  knownTint: '#29315a',
  cooldown: '#7f9fc4',
  network: '#cfa83a',
  power: '#aab6c2',
  onBadge: '#10161c',
};

/** For pages: each colour is a variable, set by `themeVariables`, so that one picture serves light and dark. */
export const pageTheme: Theme = mapped((name) => `var(--dw-${name})`);

/** The declarations that give a page's pictures their colours. */
export function themeVariables(name: ThemeName): string {
  return Object.entries(themes[name])
    .map(([colour, value]) => `--dw-${colour}:${String(value)}`)
    .join(';');
}

function mapped(to: (name: keyof Theme) => string): Theme {
  const names: (keyof Theme)[] = [];
  for (const name in light) if (isColour(name)) names.push(name);
  return names.reduce((theme, name) => ({ ...theme, [name]: to(name) }), light);
}

function isColour(name: string): name is keyof Theme {
  return name in light;
}

export const themes: Readonly<Record<PictureTheme, Theme>> = { light, dark, page: pageTheme };

/** Inter first: a renderer outside a browser is given that font's files. */
export const fontFamily =
  "Inter,-apple-system,'Segoe UI',Roboto,'Noto Sans',Arial,'Liberation Sans','dw narrowed',sans-serif";

/** Text is measured in Inter. The fonts named after it are as narrow; a system that has only wide ones draws them smaller. */
export const fontFaces =
  "@font-face{font-family:'dw narrowed';src:local('DejaVu Sans'),local('Verdana');size-adjust:88%}";
