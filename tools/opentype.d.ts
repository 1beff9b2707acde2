/** The part of opentype.js that make-glyphs.ts uses; the package brings no types. */
declare module "opentype.js" {
  export interface PathCommand {
    readonly type: "M" | "L" | "C" | "Q" | "Z";
    readonly x: number;
    readonly y: number;
    readonly x1: number;
    readonly y1: number;
    readonly x2: number;
    readonly y2: number;
  }
  export interface Glyph {
    readonly index: number;
    readonly advanceWidth: number;
    readonly path: { readonly commands: readonly PathCommand[] };
  }
  export interface Font {
    readonly unitsPerEm: number;
    charToGlyph(character: string): Glyph;
  }
  export function parse(data: ArrayBuffer): Font;
}
