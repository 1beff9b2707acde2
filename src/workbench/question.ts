/** What the page asks about: numbers that are held, and the device and case in view. */

/** One number held by the pointer: the quantity, by its path key, and what its number reads now. */
export interface Held {
  readonly key: string;
  readonly digits: string;
}

export interface LiveQuestion {
  readonly held: readonly Held[];
  readonly device: string;
  readonly caseName: string;
  /** Factor on the motion in the picture. */
  readonly exaggeration: number;
}
