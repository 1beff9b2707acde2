/** Sections in micrometres on which boundary elements and finite volumes are held against each other. */
import type { JudgeBody } from "./plane-potential.ts";

export function rectangle(
  sizes: readonly [x: number, width: number, height: number, gap: number],
  potential: "hot" | "cold" = "hot",
): JudgeBody {
  const [x, width, height, gap] = sizes;
  return { x, width, height, gap, potential };
}

/** Anchored silicon 24 beside the outermost edges, as high as the legs, 100 wide. */
function fieldSilicon(legs: readonly JudgeBody[]): JudgeBody[] {
  const left = Math.min(...legs.map((leg) => leg.x - leg.width / 2));
  const right = Math.max(...legs.map((leg) => leg.x + leg.width / 2));
  const { height, gap } = legs[0]!;
  return [rectangle([left - 74, 100, height, gap], "cold"), rectangle([right + 74, 100, height, gap], "cold")];
}

function row(n: number, pitch: number, section: readonly [width: number, height: number, gap: number]): JudgeBody[] {
  return Array.from({ length: n }, (_, i) => rectangle([(i - (n - 1) / 2) * pitch, ...section]));
}

const six = row(6, 16, [6, 40, 7.39]);
const unequal = [0, 14, 34, 50].map((x) => rectangle([x, 6, 40, 7.39]));

export interface JudgedSection {
  readonly name: string;
  readonly bodies: readonly JudgeBody[];
  readonly isSymmetric: boolean;
  /** Steps between edges that keep the case well below a second. */
  readonly nSteps: number;
}

export const judgedSections: readonly JudgedSection[] = [
  { name: "a leg of 6 x 40, gap 7.39", bodies: row(1, 16, [6, 40, 7.39]), isSymmetric: true, nSteps: 10 },
  { name: "six legs, pitch 16", bodies: six, isSymmetric: true, nSteps: 8 },
  { name: "six legs between field silicon", bodies: [...six, ...fieldSilicon(six)], isSymmetric: true, nSteps: 8 },
  {
    name: "four legs at unequal pitch between field silicon",
    bodies: [...unequal, ...fieldSilicon(unequal)],
    isSymmetric: false,
    nSteps: 7,
  },
  { name: "a plate of 1100 x 40", bodies: [rectangle([0, 1100, 40, 7.39])], isSymmetric: true, nSteps: 10 },
  {
    name: "legs of different widths",
    bodies: [
      rectangle([0, 20, 40, 10]),
      rectangle([-21, 6, 40, 10]),
      rectangle([21, 6, 40, 10]),
      rectangle([45, 14, 40, 10]),
      rectangle([-45, 14, 40, 10]),
    ],
    isSymmetric: true,
    nSteps: 10,
  },
  {
    name: "a shuttle of 24 between field silicon",
    bodies: [rectangle([0, 24, 40, 7.39]), ...fieldSilicon([rectangle([0, 24, 40, 7.39])])],
    isSymmetric: true,
    nSteps: 8,
  },
  {
    name: "a low line beside a cold wall on the plane",
    bodies: [rectangle([0, 4, 2, 2]), rectangle([12, 10, 6, 0], "cold")],
    isSymmetric: false,
    nSteps: 6,
  },
];

/** The listed single legs: width, height, gap and factor, computed by boundary elements with 240 graded panels to five digits. */
export const listedLegs: readonly (readonly [width: number, height: number, gap: number, factor: number])[] = [
  [2, 2, 2, 3.961],
  [3, 3.5, 2, 4.9115],
  [10, 2.25, 2, 8.4826],
  [8, 40, 10, 4.8126],
  [8, 40, 5, 6.3814],
  [30, 40, 10, 7.2112],
  [100, 40, 10, 14.5435],
];

/** Listed rows of 8 x 40 legs at gap 10: number, pitch and mean factor. */
export const listedRows: readonly (readonly [n: number, pitch: number, mean: number])[] = [
  [2, 40, 3.9116],
  [8, 40, 3.115],
  [2, 20, 3.3839],
  [4, 20, 2.6376],
  [8, 20, 2.2433],
];

export function listedRow(n: number, pitch: number): JudgeBody[] {
  return row(n, pitch, [8, 40, 10]);
}
