/**
 * An anchor: silicon bonded to the glass, which holds beam roots, lets heat into the glass and carries one terminal.
 * It is warm as a whole: its silicon conducts a hundred times better than the glass under it.
 */
import type { Part } from "../assembly.ts";
import { outlineOf, type Rectangle } from "../rectangle.ts";

export interface AnchorOptions {
  /** Target outline [m]. */
  readonly rectangle: Rectangle;
  /** Idealised: stays at the temperature of the surroundings. */
  readonly ideal: boolean;
  /** Thermal resistance to the heat sink [K/W]; needed unless ideal. */
  readonly sinkResistance: number | undefined;
  readonly terminal: number | undefined;
  /** Resistance of pads and leads of this terminal [ohm]. */
  readonly leadResistance: number;
}

export function anchor(name: string, options: AnchorOptions): Part {
  return {
    name,
    outlines: () => [{ plate: "silicon", polygon: outlineOf(options.rectangle), free: false }],
    addToFrame: (frame) => {
      frame.addNode(name, {
        held: options.ideal,
        sinkResistance: options.ideal ? undefined : options.sinkResistance,
        terminal: options.terminal,
        leadResistance: options.leadResistance,
      });
    },
  };
}
