/**
 * Colours of the house: the only place where colours are written.
 * Paper is for day and print, Night for dark rooms, Amber for the yellow light of a lithography bay: no blue in any of its pixels.
 * Main test: tokens.test.ts (contrast of every ink against the stock, blue of Amber).
 */

export interface Tokens {
  /** The page. */
  readonly stock: string;
  /** Inside frames, and free ground. */
  readonly sheet: string;
  /** Text, rails, fence. */
  readonly ink: string;
  /** Secondary text, leaders. */
  readonly ink2: string;
  /** Ticks and stipple; no text. */
  readonly ink3: string;
  /** Decoration between rows only. */
  readonly hair: string;
  /** What is held, focus, today. */
  readonly handle: string;
  /** Diamonds and their bars. */
  readonly measured: string;
  /** The word, and the flag of what must change. */
  readonly fail: string;
  readonly care: string;
  readonly silicon: string;
  readonly anchors: string;
  readonly metal: string;
  readonly glass: string;
  /** Field map from cold to hot, even steps of lightness. */
  readonly ember: readonly string[];
}

/** Field map "ember": L* 15 to 88. */
export const ember: readonly string[] = [
  "#2C203A",
  "#492552",
  "#6B2960",
  "#8D2E65",
  "#AD3961",
  "#C84C58",
  "#DC6550",
  "#E88350",
  "#ECA362",
  "#ECC287",
  "#EBDDB9",
];

/** Field map "ember amber": L* 8 to 79, no blue. */
const emberAmber: readonly string[] = [
  "#2E0E00",
  "#471800",
  "#5F2500",
  "#783300",
  "#8F4300",
  "#A65500",
  "#BC6800",
  "#D17C00",
  "#E49100",
  "#F7A800",
  "#FFB800",
];

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
  ember,
};

export const night: Tokens = {
  stock: "#1A1715",
  sheet: "#221E1B",
  ink: "#EFE8DC",
  ink2: "#BBB0A2",
  ink3: "#8F8579",
  hair: "#453E38",
  handle: "#D2ACE6",
  measured: "#7FCFCF",
  fail: "#F28C6E",
  care: "#E3B75C",
  silicon: "#6E665E",
  anchors: "#A79D91",
  metal: "#C9A04C",
  glass: "#262B29",
  ember,
};

export const amber: Tokens = {
  stock: "#140B00",
  sheet: "#1E1200",
  ink: "#FFC400",
  ink2: "#D39400",
  ink3: "#A87000",
  hair: "#573700",
  handle: "#FFE600",
  measured: "#FFE600",
  fail: "#FF8A00",
  care: "#FFB000",
  silicon: "#7A5200",
  anchors: "#B88200",
  metal: "#E0A800",
  glass: "#241600",
  ember: emberAmber,
};
