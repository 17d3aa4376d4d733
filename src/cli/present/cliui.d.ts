// The package comes without types; this is what we use of it.
declare module 'cliui' {
  export interface CellOptions {
    text: string;
    width?: number;
    align?: 'right' | 'center';
    /** Top, right, bottom, left. */
    padding?: number[];
  }

  export interface Layout {
    /** Adds a row of cells. */
    div(...cells: CellOptions[]): unknown;
    toString(): string;
  }

  export default function cliui(options: { width: number; wrap: boolean }): Layout;
}
