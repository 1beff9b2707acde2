/** Colours of the house: the only place where colours are written. */

export interface Tokens {
  readonly stock: string;
  readonly sheet: string;
  readonly ink: string;
  readonly ink2: string;
  readonly ink3: string;
  readonly hair: string;
  readonly handle: string;
  readonly measured: string;
  readonly fail: string;
  readonly care: string;
  readonly silicon: string;
  readonly anchors: string;
  readonly metal: string;
  readonly glass: string;
}

export const paper: Tokens = {
  stock: "#F4F1E9",
  sheet: "#FCFAF5",
  ink: "#241E1B",
  ink2: "#5C534C",
  ink3: "#80766C",
  hair: "#CDC5B7",
  handle: "#5A2B72",
  measured: "#0B5A63",
  fail: "#9A2E18",
  care: "#7A4E00",
  silicon: "#B9B1A6",
  anchors: "#6F675E",
  metal: "#C79A3E",
  glass: "#E3E9E4",
};

/** Field map "ember": even steps of lightness from cold to hot. */
export const ember: readonly string[] = ["#2C203A", "#492552", "#6B2960", "#8D2E65", "#AD3961", "#C84C58", "#DC6550", "#E88350", "#ECA362", "#ECC287", "#EBDDB9"];
