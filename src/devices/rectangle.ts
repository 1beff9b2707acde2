/** Rectangles of parts, in metres, as counter-clockwise outlines. */

export interface Rectangle {
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
  readonly top: number;
}

export function rectangleAbout(centre: { x: number; y: number }, size: { width: number; height: number }): Rectangle {
  return {
    left: centre.x - size.width / 2,
    right: centre.x + size.width / 2,
    bottom: centre.y - size.height / 2,
    top: centre.y + size.height / 2,
  };
}

/** Corners [8] m, counter-clockwise from the lower left. */
export function outlineOf({ left, bottom, right, top }: Rectangle): Float64Array {
  return Float64Array.of(left, bottom, right, bottom, right, top, left, top);
}
