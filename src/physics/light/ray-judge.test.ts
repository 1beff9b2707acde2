/**
 * The judge of light-through-slit-grids.ts: single rays at random, walked from face to face where they really are, with Snell's angles.
 * It shares no code with what it judges: nothing is unfolded, no lengths, no kinks; light in a bar is followed inside the bar.
 */

import { describe, expect, it } from "vitest";
import { createRandomSource, type RandomSource } from "#base";
import { type ConeLight, lightThroughSlitGrids, type SlitGrids } from "./index.ts";

const u = 1e-6;

/** Fresnel by the angles on both sides, for a real index; cosine of the angle in vacuum. */
function byAngles(n: number, cosine: number): { s: number; p: number } {
  const inside = Math.cos(Math.asin(Math.sqrt(Math.max(0, 1 - cosine * cosine)) / n));
  return {
    s: ((cosine - n * inside) / (cosine + n * inside)) ** 2,
    p: ((n * cosine - inside) / (n * cosine + inside)) ** 2,
  };
}

type End = "transmitted" | "reflected" | "absorbed";
type Place = "slit" | "gap" | "bar" | "end";

/** One ray; returns its end and the share of its power that gets there (the rest stays in walls and metal). */
function traceRay(grids: SlitGrids, light: ConeLight, random: RandomSource): { end: End; power: number } {
  const { pitch, fixedSlit, bladeSlit, gap, thickness, metalReflectance, blade, absorption } = grids;
  const wallPart = random.uniform() < 0.5 ? "s" : "p";
  const sine = Math.sin(light.halfAngle) * Math.sqrt(random.uniform());
  const dx = sine * Math.cos(2 * Math.PI * random.uniform());
  let dy = Math.sqrt(Math.max(0, sine * sine - dx * dx)) * (random.uniform() < 0.5 ? -1 : 1);
  const dz = Math.sqrt(1 - sine * sine);
  const level = byAngles(blade.n, dz);
  // Field vectors of wall state s and of a level face's own s; at each visit the ray is in the latter with its squared cosine.
  const flat = Math.hypot(dx, dy) * Math.hypot(dx, dz);
  const own = flat === 0 ? 1 : ((dy * dz) / flat) ** 2;
  const levelPart = (): "s" | "p" => (random.uniform() < own === (wallPart === "s") ? "s" : "p");
  let levelShare = level[levelPart()];
  const wallShare = byAngles(blade.n, Math.abs(dy))[wallPart];
  const insideZ = Math.sqrt(1 - (sine / blade.n) ** 2);

  let up = light.from === "metal";
  let y = random.uniform() * pitch;
  let power = 1;
  /** Distance of y from the middle of the nearest slit, blade slits at whole pitches, fixed ones half a pitch on less the offset. */
  const fromSlit = (middle: number) => y - middle - pitch * Math.round((y - middle) / pitch);
  const overBlade = () => Math.abs(fromSlit(0)) < bladeSlit / 2;
  const overFixed = () => Math.abs(fromSlit(pitch / 2 - grids.offset)) < fixedSlit / 2;
  const far: End = "transmitted";
  const near: End = "reflected";
  /** Crosses a blade's slit or bar of the given width around `middle`; walls turn the sense along y and keep `share`. */
  const cross = (middle: number, width: number, run: { slope: number; share: number }) => {
    let left = thickness;
    for (;;) {
      const sense = Math.sign(dy);
      const wall = middle + (sense * width) / 2;
      const toWall = run.slope === 0 ? Infinity : Math.abs(wall - y) / run.slope;
      if (toWall >= left) {
        y += sense * run.slope * left;
        return;
      }
      y = wall;
      left -= toWall;
      dy = -dy;
      power *= run.share;
    }
  };
  const slope = Math.abs(dy) / dz;
  const insideSlope = Math.abs(dy) / blade.n / insideZ;
  const meetBladeFrom = (): Place => {
    if (overBlade()) return "slit";
    levelShare = level[levelPart()];
    if (random.uniform() < levelShare) {
      up = !up;
      return "gap";
    }
    return "bar";
  };

  let place: Place;
  if (light.from === "blade") {
    place = meetBladeFrom();
    if (place === "gap") return { end: near, power };
  } else {
    if (!overFixed()) return { end: near, power: metalReflectance };
    place = "gap";
  }
  while (power > 1e-9) {
    if (place === "gap") {
      y += Math.sign(dy) * slope * gap;
      if (up) place = meetBladeFrom();
      else if (overFixed()) return { end: light.from === "blade" ? far : near, power };
      else {
        power *= metalReflectance;
        up = true;
      }
    } else if (place === "slit") {
      cross(y - fromSlit(0), bladeSlit, { slope, share: wallShare });
      if (up) return { end: light.from === "blade" ? near : far, power };
      place = "gap";
    } else {
      if (absorption === undefined) return { end: "absorbed", power };
      const bar = y - fromSlit(pitch / 2);
      // Sine of the angle at a bar's own wall, met from inside: total reflection or the test means nothing.
      if (Math.sqrt(1 - (dy / blade.n) ** 2) * blade.n < 1) throw new Error("Light leaves a bar through its wall");
      cross(bar, pitch - bladeSlit, { slope: insideSlope, share: 1 });
      power *= Math.exp((-absorption * thickness) / insideZ);
      if (random.uniform() < levelShare) up = !up;
      else if (up) return { end: light.from === "blade" ? near : far, power };
      else place = "gap";
    }
  }
  return { end: "absorbed", power };
}

/** Mean and standard error of transmitted and reflected shares. */
function judge(grids: SlitGrids, light: ConeLight, run: { nRays: number; seed: number }) {
  const random = createRandomSource(run.seed);
  const sums = { transmitted: [0, 0], reflected: [0, 0], absorbed: [0, 0] };
  for (let i = 0; i < run.nRays; i++) {
    const { end, power } = traceRay(grids, light, random);
    const sum = sums[end];
    sum[0] = sum[0]! + power;
    sum[1] = sum[1]! + power * power;
  }
  const statistics = ([first, second]: number[]) => {
    const mean = first! / run.nRays;
    return { mean, error: Math.sqrt(Math.max(second! / run.nRays - mean * mean, 0) / run.nRays) };
  };
  return { transmitted: statistics(sums.transmitted), reflected: statistics(sums.reflected) };
}

const example: SlitGrids = {
  pitch: 20 * u,
  fixedSlit: 6 * u,
  bladeSlit: 8 * u,
  gap: 7 * u,
  thickness: 40 * u,
  offset: 0,
  metalReflectance: 0.6,
  blade: { n: 3.75 },
};

/** Shutters at random, every other one with bars that let some light through, from both sides. */
function randomCase(seed: number): { grids: SlitGrids; light: ConeLight } {
  const random = createRandomSource(seed);
  const between = (low: number, high: number) => low + (high - low) * random.uniform();
  return {
    grids: {
      pitch: 20 * u,
      fixedSlit: between(4, 12) * u,
      bladeSlit: between(4, 12) * u,
      gap: between(3, 14) * u,
      thickness: between(5, 60) * u,
      offset: between(-10, 10) * u,
      metalReflectance: between(0.3, 0.95),
      blade: { n: between(1.8, 4) },
      ...(seed % 2 === 0 ? { absorption: between(0.05, 0.3) / u } : {}),
    },
    light: { halfAngle: between(0.1, 0.5), from: seed % 4 < 2 ? "blade" : "metal" },
  };
}

const cases = [
  { name: "closed", grids: example, light: { halfAngle: 0.2, from: "blade" as const } },
  { name: "half open", grids: { ...example, offset: 5 * u }, light: { halfAngle: 0.2, from: "metal" as const } },
  {
    name: "wide cone",
    grids: { ...example, offset: 4 * u, thickness: 10 * u },
    light: { halfAngle: 1.2, from: "blade" as const },
  },
  {
    name: "half-space",
    grids: { ...example, blade: { n: 2 }, offset: 4 * u },
    light: { halfAngle: Math.PI / 2, from: "metal" as const },
  },
  ...[1, 2, 3, 4, 5, 6, 7, 8].map((seed) => ({ name: `at random ${seed}`, ...randomCase(seed) })),
];

describe("light judged by single rays", () => {
  it.each(cases)("$name", ({ grids, light }) => {
    const found = lightThroughSlitGrids(grids, light, { mode: "fast" });
    const rays = judge(grids, light, { nRays: 60_000, seed: 7 });
    // Three standard errors of the judge; the quadrature's error is hundreds of times less.
    expect(rays.transmitted.mean).toBeGreaterThan(0);
    expect(Math.abs(found.transmitted - rays.transmitted.mean)).toBeLessThan(3 * rays.transmitted.error);
    expect(Math.abs(found.reflected - rays.reflected.mean)).toBeLessThan(3 * rays.reflected.error);
  });
});
