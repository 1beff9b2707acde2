/**
 * All paths of light of one slope between the blade and the metal film, as lengths along y: no ray is sampled here.
 *
 * Every face of the shutter is level or upright, so a bounce only flips the sign of a direction component: |dy/dz| = slope stays, and
 * the angle of incidence on all walls and on all level faces with it. Level faces do not turn the sense along y either: in the gap
 * all light of one sense moves rigidly by slope × gap from level to level. What starts as a few intervals of y is cut at the
 * edges of the slits that it meets, and what remains goes on. In the blade slits the walls fold the light: unfolded, light that
 * entered at q leaves at q + slope × thickness after floor(that / bladeSlit) walls; at the lower end, light that moves in +y then
 * fills [0, fold] after k + 1 walls and [fold, bladeSlit] after k. Exact, apart from the number of trips that is followed.
 * Main test: light-through-slit-grids.test.ts.
 */

/** One sense along y, all lengths [m]; the slit of the blade is [0, bladeSlit], repeated with the pitch. */
export interface GapSection {
  readonly pitch: number;
  readonly bladeSlit: number;
  readonly fixedSlit: number;
  readonly gap: number;
  readonly thickness: number;
  /** Lower edge of one fixed slit. */
  readonly fixedEdge: number;
}

/** Kinds of light at the start: after k walls, after k + 1 walls, through a bar. From the metal side only the first is used. */
export const nKinds = 3;

/**
 * Lengths of the paths of one slope [m]; index trip × nKinds + kind. A trip is one visit at the metal and one at the blade.
 */
export class PathLengths {
  /** Walls met by the light that meets fewer of them. */
  nWalls = 0;
  nTrips = 0;
  /** Lengths at the start, by kind. */
  readonly start = new Float64Array(nKinds);
  /** Meets a fixed slit; meets the metal. */
  readonly outBelow: Float64Array;
  readonly onMetal: Float64Array;
  /** Meets a blade slit and leaves it after nWalls, after nWalls + 1; meets a bar. */
  readonly outAbove: Float64Array;
  readonly outAboveLate: Float64Array;
  readonly onBars: Float64Array;
  /** The intervals still under way. */
  private low = new Float64Array(64);
  private high = new Float64Array(64);
  private kind = new Uint8Array(64);
  private nextLow = new Float64Array(64);
  private nextHigh = new Float64Array(64);
  private nextKind = new Uint8Array(64);
  private n = 0;
  private nNext = 0;
  private fold = 0;

  constructor(readonly maxTrips: number) {
    const size = maxTrips * nKinds;
    this.outBelow = new Float64Array(size);
    this.onMetal = new Float64Array(size);
    this.outAbove = new Float64Array(size);
    this.outAboveLate = new Float64Array(size);
    this.onBars = new Float64Array(size);
  }

  /** Follows light that came down through the blade for up to nTrips trips. */
  walkFromBlade(section: GapSection, slope: number, nTrips: number): void {
    const { pitch, bladeSlit } = section;
    this.begin(section, slope, nTrips);
    this.add(0, this.fold, 1);
    this.add(this.fold, bladeSlit, 0);
    this.add(bladeSlit, pitch, 2);
    this.keepStart();
    for (let trip = 0; trip < this.nTrips; trip++) {
      this.meetMetal(section, slope, trip);
      this.meetBlade(section, slope, trip);
      if (this.n === 0) this.nTrips = trip + 1;
    }
  }

  /** Follows light that came up through the fixed slits for up to nTrips trips. */
  walkFromMetal(section: GapSection, slope: number, nTrips: number): void {
    this.begin(section, slope, nTrips);
    this.add(section.fixedEdge, section.fixedEdge + section.fixedSlit, 0);
    this.keepStart();
    for (let trip = 0; trip < this.nTrips; trip++) {
      this.meetBlade(section, slope, trip);
      this.meetMetal(section, slope, trip);
      if (this.n === 0) this.nTrips = trip + 1;
    }
  }

  private begin(section: GapSection, slope: number, nTrips: number): void {
    this.nTrips = Math.min(nTrips, this.maxTrips);
    const size = this.nTrips * nKinds;
    for (const lengths of [this.outBelow, this.onMetal, this.outAbove, this.outAboveLate, this.onBars]) lengths.fill(0, 0, size);
    const run = slope * section.thickness;
    this.nWalls = Math.floor(run / section.bladeSlit);
    this.fold = Math.min(Math.max(run - this.nWalls * section.bladeSlit, 0), section.bladeSlit);
    this.nNext = 0;
  }

  private keepStart(): void {
    this.start.fill(0);
    for (let i = 0; i < this.nNext; i++) {
      const kind = this.nextKind[i]!;
      this.start[kind] = this.start[kind]! + this.nextHigh[i]! - this.nextLow[i]!;
    }
    this.turn();
  }

  private meetMetal(section: GapSection, slope: number, trip: number): void {
    const { pitch, fixedEdge, fixedSlit } = section;
    const shift = slope * section.gap;
    for (let i = 0; i < this.n; i++) {
      const kind = this.kind[i]!;
      const at = trip * nKinds + kind;
      let low = this.low[i]! + shift;
      const high = this.high[i]! + shift;
      let edge = fixedEdge + pitch * Math.ceil((low - fixedEdge - fixedSlit) / pitch);
      for (; edge < high; edge += pitch) {
        if (edge > low) this.add(low, edge, kind);
        const end = Math.min(edge + fixedSlit, high);
        this.outBelow[at] = this.outBelow[at]! + end - Math.max(edge, low);
        low = end;
      }
      if (high > low) this.add(low, high, kind);
    }
    this.turn();
    this.measureInto(this.onMetal, trip);
  }

  private meetBlade(section: GapSection, slope: number, trip: number): void {
    const { pitch, bladeSlit } = section;
    const shift = slope * section.gap;
    for (let i = 0; i < this.n; i++) {
      const kind = this.kind[i]!;
      const at = trip * nKinds + kind;
      let low = this.low[i]! + shift;
      const high = this.high[i]! + shift;
      let edge = pitch * Math.ceil((low - bladeSlit) / pitch);
      for (; edge < high; edge += pitch) {
        if (edge > low) this.add(low, edge, kind);
        const begin = Math.max(edge, low);
        const end = Math.min(edge + bladeSlit, high);
        const turn = Math.min(Math.max(edge + bladeSlit - this.fold, begin), end);
        this.outAbove[at] = this.outAbove[at]! + turn - begin;
        this.outAboveLate[at] = this.outAboveLate[at]! + end - turn;
        low = end;
      }
      if (high > low) this.add(low, high, kind);
    }
    this.turn();
    this.measureInto(this.onBars, trip);
  }

  private measureInto(lengths: Float64Array, trip: number): void {
    for (let i = 0; i < this.n; i++) {
      const at = trip * nKinds + this.kind[i]!;
      lengths[at] = lengths[at]! + this.high[i]! - this.low[i]!;
    }
  }

  private add(low: number, high: number, kind: number): void {
    if (!(high > low)) return;
    if (this.nNext === this.nextLow.length) this.grow();
    this.nextLow[this.nNext] = low;
    this.nextHigh[this.nNext] = high;
    this.nextKind[this.nNext] = kind;
    this.nNext++;
  }

  /** What was collected is what is under way at the next level. */
  private turn(): void {
    [this.low, this.nextLow] = [this.nextLow, this.low];
    [this.high, this.nextHigh] = [this.nextHigh, this.high];
    [this.kind, this.nextKind] = [this.nextKind, this.kind];
    this.n = this.nNext;
    this.nNext = 0;
  }

  private grow(): void {
    const size = 2 * this.nextLow.length;
    const longer = <T extends Float64Array | Uint8Array>(from: T, to: T): T => {
      to.set(from);
      return to;
    };
    this.nextLow = longer(this.nextLow, new Float64Array(size));
    this.nextHigh = longer(this.nextHigh, new Float64Array(size));
    this.nextKind = longer(this.nextKind, new Uint8Array(size));
  }
}
