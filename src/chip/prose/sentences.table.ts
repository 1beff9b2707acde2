/**
 * What a person would say of each family and part word, in one or two sentences. A name in braces is a field of the part; a stretch in
 * brackets is left out where one of its fields is not given. Own words. Main test: prose.test.ts (every word has a sentence, every field
 * in a sentence exists).
 */

/** Families and part words that are told the same wherever they stand. */
export const sentences: Readonly<Record<string, string>> = {
  "bent-beam pair":
    "One pair of legs, each {legs.length} long and {legs.width} wide, tilted by {legs.tilt}[, with fillets of {legs.fillet}][, pushes a shuttle of {shuttle.width} by {shuttle.height}].[ It works against {load.stiffness}.][ Pads and leads add {leads}.]",
  "bent-beam bank":
    "{legs.pairs} pairs of legs, each {legs.length} long and {legs.width} wide, tilted by {legs.tilt}[ and {legs.pitch} apart][, push a shuttle of {shuttle.width} by {shuttle.height}].[ Fillets of {legs.fillet} round their roots.][ Pads and leads add {leads}.]",
  "straight bar": "A straight bar, {length} long and {width} wide, between two anchors.[ Pads and leads add {leads}.]",
  cascade:
    "Two banks of {primaries.legs.pairs} pairs, legs {primaries.legs.length} by {primaries.legs.width} tilted by {primaries.legs.tilt}, squeeze a second pair of legs, {secondary.length} by {secondary.width} tilted by {secondary.tilt}.",
  "hot and cold arm":
    "A hot arm {hot arm.length} long and {hot arm.width} wide stands {gap} beside a cold arm of {cold arm.length} by {cold arm.width}, which bends at a flexure {flexure.width} wide.",
  "suspended plate": "A plate of {plate.width} by {plate.height} hangs on {count} flexures.",
  anchor: "An anchor of {width} by {height} at {at}[, wired {wire}].",
  beam: "A beam {width} wide[, {end width} at its end,] from {from} to {to}.",
  "curved beam": "A curved beam {width} wide from {from} to {to} rises by {rise}.",
  plate: "A plate of {width} by {height} at {at}.",
  pad: "A pad of {width} by {height} at {at}.",
  wire: "A wire on the glass, {width} wide, from {from} to {to}.",
  support: "A support at {at}.",
  spring: "A spring at {at}[, {x} along x][, {y} along y].",
  stop: "A stop at {at}, after {gap}.",
  lump: "At {at}[ sits a mass of {mass}][ leaks a heat of {heat leak}].",
  "clamped-guided beam": "A beam {length} long and {width} wide to an island.",
  "folded flexure": "A folded flexure at {at}: beams {length} long and {width} wide, {spacing} apart.",
  "crab-leg": "A crab-leg at {at}: thigh {thigh.length} by {thigh.width}, shin {shin.length} by {shin.width}.",
  serpentine: "A serpentine at {at}: {meanders} meanders of {span}, {width} wide and {pitch} apart.",
  "slit blade":
    "A blade with an aperture of {aperture.width} by {aperture.height} carries slits {slits.width} wide at a pitch of {slits.pitch}, with a rim of {rim}.",
  "fixed slits": "Under it, metal on the glass leaves slits {slits.width} wide at a pitch of {slits.pitch}.",
};

/** What every chip text says of the layer and the etch. */
export const layerSentence =
  "All stand {process.silicon thickness} deep in silicon[ of {process.silicon.resistivity}], {process.gap under silicon} above the glass.[ The etch takes {process.undercut per edge} off each edge][; the plate gives back {process.bias per edge}].";
