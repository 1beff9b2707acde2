/**
 * Drag of a long cylinder beside a flat wall, slow enough that the gas between follows at once: exact for creeping flow.
 *
 * [jeffrey1981] FROM MEMORY: with h the distance of the axis and a the radius, 4 pi mu/acosh(h/a) square to the axis and parallel to the
 * wall, 4 pi mu/(acosh(h/a) - sqrt(1 - a²/h²)) towards it, 2 pi mu/acosh(h/a) along the axis. Validity: gap below the depth of viscous
 * waves; without slip, so high by about four mean free paths over the gap. Main test: cylinder-at-wall.test.ts, both limits.
 */
import { requirePositive } from "./gas-film.ts";

/** Damping per length [N s/m^2]. */
export interface WallDrag {
  readonly alongAxis: number;
  /** Square to the axis, parallel to the wall. */
  readonly alongWall: number;
  readonly towardsWall: number;
}

export function cylinderAtWallDrag(cylinder: {
  readonly radius: number;
  /** Clear distance to the wall [m]. */
  readonly gap: number;
  readonly viscosity: number;
}): WallDrag {
  const { radius, gap, viscosity } = cylinder;
  requirePositive({ radius, gap, viscosity }, "the drag of a cylinder at a wall");
  const clear = gap / radius;
  const angle = Math.acosh(1 + clear);
  // below, the difference cancels: sqrt(2 e) e (2/3)(1 - 21 e/20 ...), by expansion
  const difference =
    clear < 1e-4
      ? (2 / 3) * Math.sqrt(2) * clear ** 1.5 * (1 - 1.05 * clear)
      : angle - Math.sqrt(clear * (2 + clear)) / (1 + clear);
  const unit = 2 * Math.PI * viscosity;
  return { alongAxis: unit / angle, alongWall: (2 * unit) / angle, towardsWall: (2 * unit) / difference };
}
