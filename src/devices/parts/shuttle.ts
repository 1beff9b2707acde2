/**
 * A shuttle: the middle plate that the legs push. In the frame it is a spine along its middle with a stiff link to each leg end,
 * so that its own width warms and lengthens; its underside loses heat at the spine.
 *
 *        leg ---[edge]===link===[spine]===link===[edge]--- leg
 *                                  |
 *        leg ---[edge]===link===[spine]===link===[edge]--- leg
 */
import type { Part } from "../assembly.ts";
import { outlineOf, rectangleAbout } from "../rectangle.ts";

export interface ShuttleOptions {
  /** Middle of the shuttle, target size [m]. */
  readonly centre: { readonly x: number; readonly y: number };
  readonly width: number;
  readonly height: number;
  /** Heights at which a pair of legs meets the shuttle, from below, [m]. */
  readonly levels: readonly number[];
  /** Heat conductance of parts that hang on the shuttle and are not modelled, [W/K]. */
  readonly leak: number;
  /** Stiffness along the travel of such parts, [N/m]. */
  readonly loadStiffness: number;
  /** Slope of the legs: an edge that recedes meets a leg a little further up its axis. */
  readonly legSlope: number;
  /** Target clear distance from its ends to the silicon that stays, [m]; undefined where there is none. */
  readonly wallDistance: number | undefined;
}

/** Names under which legs find their ends on the shuttle. */
export const shuttleEnd = (name: string, level: number, side: "left" | "right"): { node: string; point: string } => ({
  node: `${name} edge ${level + 1} ${side}`,
  point: `${name} edge ${level + 1} ${side}`,
});

export function shuttle(name: string, options: ShuttleOptions): Part {
  const { centre, levels } = options;
  const nLevels = levels.length;
  return {
    name,
    outlines: () => [{ plate: "silicon", polygon: outlineOf(rectangleAbout(centre, options)), free: true }],
    addToFrame: (frame) => {
      const width = frame.lineWidth(options.width, name);
      const height = frame.lineWidth(options.height, name);
      const wallDistance = options.wallDistance === undefined ? undefined : options.wallDistance + 2 * frame.sizes.inward;
      // the cross-section that carries heat and current from one side to the other is shared out among the levels
      const linkWidth = height / nLevels;
      levels.forEach((target, level) => {
        const y = target + frame.sizes.inward * options.legSlope;
        const spine = frame.addNode(`${name} spine ${level + 1}`, {
          leak: options.leak / nLevels,
          plate: { width, height, share: 1 / nLevels, wallDistance },
        });
        frame.markShuttleNode(spine);
        const spinePoint = frame.addPoint(`${name} spine ${level + 1}`, { x: centre.x, y, node: spine, fixed: false });
        for (const side of ["left", "right"] as const) {
          const end = shuttleEnd(name, level, side);
          const node = frame.addNode(end.node, {});
          const x = centre.x + (side === "left" ? -width / 2 : width / 2);
          const point = frame.addPoint(end.point, { x, y, node, fixed: false });
          frame.addBeam({
            name: `${name} link ${level + 1} ${side}`,
            role: "link",
            from: point,
            to: spinePoint,
            width: linkWidth,
          });
        }
        if (level > 0) {
          frame.addBeam({
            name: `${name} spine ${level} to ${level + 1}`,
            role: "link",
            from: frame.point(`${name} spine ${level}`),
            to: spinePoint,
            width,
          });
        }
      });
      frame.setOutput({ point: frame.point(`${name} spine ${Math.ceil(nLevels / 2)}`), loadStiffness: options.loadStiffness });
    },
  };
}

/** An idealised shuttle without size: the two legs of each pair meet in one point, and all pairs in the same way. */
export function pointShuttle(
  name: string,
  options: Omit<ShuttleOptions, "width" | "height" | "wallDistance" | "legSlope">,
): Part {
  return {
    name,
    outlines: () => [],
    addToFrame: (frame) => {
      options.levels.forEach((y, level) => {
        const node = frame.addNode(`${name} spine ${level + 1}`, { leak: options.leak / options.levels.length });
        frame.markShuttleNode(node);
        frame.addPoint(`${name} spine ${level + 1}`, { x: options.centre.x, y, node, fixed: false });
      });
      frame.setOutput({
        point: frame.point(`${name} spine ${Math.ceil(options.levels.length / 2)}`),
        loadStiffness: options.loadStiffness,
      });
    },
  };
}
