/**
 * Broken compositions: parts that touch, float or lie nowhere, openings that the etch opens, cases that cannot be. Rows as in
 * broken-texts.table.ts: one piece of a valid text is changed, and every problem that must be told is stated word for word.
 */

/** Two beams, a plate with holes and a stop between two anchors. */
export const frameText = `chip: A frame
version: 1
note: Invented; parts between named points.

brief:
  - name: way of the table
    need: at least 0.1 um
    of: motion along y
    where: tip
    at: hold

surroundings: { gas: air, pressure: 101 kPa, temperature: 298 K }

process:
  flow: idealised
  silicon thickness: 40 um
  undercut per edge: assumed 0.5 um
  gap under silicon: 10 um
  glass: { material: borosilicate glass 3.3, thickness: 500 um }
  silicon: { dopant: boron, resistivity: 0.0150 ohm cm }

devices:
  table:
    is: composition
    points:
      left root: { x: -500 um, y: 0 um }
      right root: { x: 500 um, y: 0 um }
      middle: { x: 0 um, y: 20 um }
      tip: { from: middle, x: 0 um, y: 50 um }
      far: { from: middle, distance: 400 um, direction: 90 deg }
      over: { from: middle, distance: 450 um, direction: 90 deg }
      beside: { from: middle, x: -200 um, y: 300 um }
    parts:
      left: { is: anchor, at: left root, width: 100 um, height: 100 um, heat: ideal, wire: plus }
      right: { is: anchor, at: right root, width: 100 um, height: 100 um, thermal resistance: assumed 300 K/W, wire: minus }
      plate: { is: plate, at: middle, width: 100 um, height: 100 um, holes: { columns: 3, rows: 3, side: 10 um, pitch: 25 um } }
      left arm: { is: beam, from: left root, to: middle, width: 8 um, role: leg }
      right arm: { is: curved beam, from: right root, to: middle, width: 8 um, rise: 5 um, shape: cosine }
      stop: { is: stop, at: tip, direction: 90 deg, gap: 3 um }
    output: { point: tip, direction: 90 deg }
    heat loss: gas
    trench: 24 um

drive:
  supply: { limit: 12 V }
  cases:
    hold: { pads: 5 V }
    warm: { uniform rise: 100 K, part rises: { left arm: 150 K } }
    pushed: { pads: 5 V, forces: { tip: { y: 10 uN } }, held: { tip: { x: 0 um } } }
    shot: { steps: [{ for: 3 ms, supply: 8 V, through: 30 ohm }, { for: 5 ms }] }
`;

type BrokenComposition = readonly [name: string, base: "frame", piece: string, replacement: string, problems: readonly string[]];

export const brokenCompositions: readonly BrokenComposition[] = [
  [
    "a plate over an anchor",
    "frame",
    "plate: { is: plate, at: middle, width: 100 um",
    "plate: { is: plate, at: middle, width: 940 um",
    ["24:5 Cannot model devices.table: left arm has no free length between what it joins."],
  ],
  [
    "a plate that touches an anchor",
    "frame",
    "plate: { is: plate, at: middle, width: 100 um",
    "plate: { is: plate, at: middle, width: 900 um",
    ["24:5 Cannot model devices.table: left arm has no free length between what it joins."],
  ],
  [
    "an anchor on another",
    "frame",
    "      stop: { is: stop",
    "      second: { is: anchor, at: left root, width: 20 um, height: 20 um, heat: ideal }\n      stop: { is: stop",
    [
      '39:15 Cannot model devices.table: "left" and "second" overlap, which joins them on the wafer, not in the model: move them apart, or draw them as one part.',
    ],
  ],
  [
    "a turned anchor whose corner lies in the plate",
    "frame",
    "      stop: { is: stop",
    "      second: { is: anchor, at: tip, turn: 45 deg, width: 20 um, height: 20 um, heat: ideal }\n      stop: { is: stop",
    [
      '39:15 Cannot model devices.table: "plate" and "second" overlap, which joins them on the wafer, not in the model: move them apart, or draw them as one part.',
    ],
  ],
  [
    "a beam that crosses another",
    "frame",
    "      stop: { is: stop",
    "      tie: { is: beam, from: beside, to: left arm middle, width: 5 um }\n      stop: { is: stop",
    [
      '39:12 Cannot model devices.table: "tie" ends on the middle of "left arm": cut "left arm" in two there, so that they are joined.',
    ],
  ],
  [
    "a beam through a plate",
    "frame",
    "right arm: { is: curved beam, from: right root, to: middle,",
    "over arm: { is: beam, from: left root, to: right root, width: 5 um }\n      right arm: { is: curved beam, from: right root, to: middle,",
    [
      '38:17 Cannot model devices.table: "over arm" runs through "plate" without ending there: end it there, and start another beam on the far side.',
    ],
  ],
  [
    "a beam twice",
    "frame",
    "      stop: { is: stop",
    "      again: { is: beam, from: left root, to: middle, width: 4 um }\n      stop: { is: stop",
    ['39:14 Cannot model devices.table: "left arm" and "again" lie on each other: move or drop one of them.'],
  ],
  [
    "a beam closer to another than their widths",
    "frame",
    "    output: {",
    "    copies: { twin: { of: [left arm], times: 1, step y: 5 um } }\n    output: {",
    [
      '24:5 Cannot model devices.table: "left arm" and "twin left arm" run closer than their widths, which joins them on the wafer, not in the model: move them apart, or draw them as one part.',
    ],
  ],
  [
    "a beam along the edge of an anchor",
    "frame",
    "beside: { from: middle, x: -200 um, y: 300 um }\n    parts:\n",
    "beside: { x: -250 um, y: 22 um }\n    parts:\n      post: { is: anchor, at: beside, width: 20 um, height: 20 um, heat: ideal }\n",
    [
      '38:17 Cannot model devices.table: "left arm" runs closer to "post" than half its width, which joins them on the wafer, not in the model: move them apart, or draw them as one part.',
    ],
  ],
  [
    "copies onto what they are copies of",
    "frame",
    "    output: {",
    "    copies: { twin: { of: [left arm], times: 1, step x: -10 um, step y: -0.4 um } }\n    output: {",
    ['24:5 Cannot model devices.table: "left arm" and "twin left arm" lie on each other: move or drop one of them.'],
  ],
  [
    "a beam of no length",
    "frame",
    "      stop: { is: stop",
    "      dot: { is: beam, from: middle, to: middle, width: 5 um }\n      stop: { is: stop",
    ['24:5 Cannot put together devices.table: dot has no length: "middle" and "middle" are the same place.'],
  ],
  [
    "a beam inside a plate",
    "frame",
    "      stop: { is: stop",
    "      inside: { is: beam, from: middle, to: tip, width: 5 um }\n      stop: { is: stop",
    ["24:5 Cannot model devices.table: inside has no free length between what it joins."],
  ],
  [
    "a wire of no length",
    "frame",
    "      stop: { is: stop",
    "      lead: { is: wire, from: far, to: far, width: 5 um }\n      stop: { is: stop",
    ['24:5 Cannot put together devices.table: the wire "lead" has no length: "far" and "far" are the same place.'],
  ],
  [
    "a plate by itself",
    "frame",
    "      stop: { is: stop",
    "      island: { is: plate, at: far, width: 20 um, height: 20 um }\n      stop: { is: stop",
    ['39:15 Cannot model devices.table: "island" is held by nothing: join it to an anchor with a beam, or give it a support.'],
  ],
  [
    "a beam by itself",
    "frame",
    "      stop: { is: stop",
    "      stick: { is: beam, from: far, to: over, width: 5 um }\n      stop: { is: stop",
    ['39:14 Cannot model devices.table: "stick" is held by nothing: join it to an anchor with a beam, or give it a support.'],
  ],
  [
    "a plate on a support along x alone",
    "frame",
    "      stop: { is: stop",
    "      island: { is: plate, at: far, width: 20 um, height: 20 um }\n      foot: { is: support, at: far, holds: [x] }\n      stop: { is: stop",
    ['24:5 Cannot model devices.table: "island" is free to move along y: hold it, join it with a beam, or take a hinge away.'],
  ],
  [
    "a bar on hinges",
    "frame",
    "      stop: { is: stop",
    "      stick: { is: beam, from: tip, to: over, width: 5 um, hinges: [start] }\n      stop: { is: stop",
    ['24:5 Cannot model devices.table: "over" is free to turn: hold it, join it with a beam, or take a hinge away.'],
  ],
  [
    "a chain of hinges",
    "frame",
    "      stop: { is: stop",
    "      stick: { is: beam, from: tip, to: far, width: 5 um, hinges: [start, end] }\n      end: { is: beam, from: far, to: over, width: 5 um }\n      stop: { is: stop",
    ['24:5 Cannot model devices.table: "over" is free to move along x: hold it, join it with a beam, or take a hinge away.'],
  ],
  [
    "a stop in the air",
    "frame",
    "stop: { is: stop, at: tip",
    "stop: { is: stop, at: far",
    [
      "24:5 Cannot model devices.table: stop stops a place where nothing is: a beam must end or have its joint there, or a plate lie there.",
    ],
  ],
  [
    "a spring in the air",
    "frame",
    "      stop: { is: stop",
    "      coil: { is: spring, at: far, y: 5 N/m }\n      stop: { is: stop",
    [
      "24:5 Cannot model devices.table: coil acts on a place where nothing is: a beam must end or have its joint there, or a plate lie there.",
    ],
  ],
  [
    "a support in the air",
    "frame",
    "      stop: { is: stop",
    "      foot: { is: support, at: far, holds: [x] }\n      stop: { is: stop",
    [
      "24:5 Cannot model devices.table: foot acts on a place where nothing is: a beam must end or have its joint there, or a plate lie there.",
    ],
  ],
  [
    "a mass in the air",
    "frame",
    "      stop: { is: stop",
    "      load: { is: lump, at: far, mass: 1 ug }\n      stop: { is: stop",
    [
      "24:5 Cannot model devices.table: load acts on a place where nothing is: a beam must end or have its joint there, or a plate lie there.",
    ],
  ],
  [
    "a heat leak in the air",
    "frame",
    "      stop: { is: stop",
    "      load: { is: lump, at: far, heat leak: 1 mW/K }\n      stop: { is: stop",
    ["24:5 Cannot model devices.table: load lies on no part."],
  ],
  [
    "a joint at the end of a beam",
    "frame",
    "to: middle, width: 8 um, role: leg }",
    "to: middle, width: 8 um, role: leg, joint at: 1 }",
    [
      "37:92 Cannot read devices.table.parts.left arm.joint at: 1 is too large; allowed is at least 1 % and at most 99 %. An example is 25 %.",
    ],
  ],
  [
    "a joint of a beam inside the plate that it ends on",
    "frame",
    "to: middle, width: 8 um, role: leg }",
    "to: middle, width: 8 um, role: leg, joint at: 0.95 }",
    ["24:5 Cannot model devices.table: left arm second part has no free length between what it joins."],
  ],
  [
    "a force on a beam that has no joint",
    "frame",
    "forces: { tip: { y: 10 uN } }",
    "forces: { left arm middle: { y: 10 uN } }",
    [
      '49:13 The case "pushed" names a point under forces: "left arm middle" lies on no part. A beam must end or have its joint there, or a plate lie there.',
    ],
  ],
  [
    "a metric at a place of a beam that has no joint",
    "frame",
    "    where: tip\n",
    "    where: left arm middle\n",
    [
      '9:12 Cannot read the requirement "way of the table": "left arm middle" lies on no part. A beam must end or have its joint there, or a plate lie there.',
    ],
  ],
  [
    "a metric at a point in the air",
    "frame",
    "of: motion along y\n    where: tip\n    at: hold",
    "of: motion along x\n    where: far\n    at: hold",
    [
      '9:12 Cannot read the requirement "way of the table": "far" lies on no part. A beam must end or have its joint there, or a plate lie there.',
    ],
  ],
  [
    "an output in the air",
    "frame",
    "output: { point: tip",
    "output: { point: far",
    [
      "24:5 Cannot model devices.table: the output lies on no part: a beam must end or have its joint there, or a plate lie there.",
    ],
  ],
  [
    "a support of nothing",
    "frame",
    "      stop: { is: stop",
    "      foot: { is: support, at: tip, holds: [] }\n      stop: { is: stop",
    ['24:5 Cannot put together devices.table: the support "foot" holds nothing: name some of x, y, turn, z.'],
  ],
  [
    "a lump of nothing",
    "frame",
    "      stop: { is: stop",
    "      load: { is: lump, at: tip }\n      stop: { is: stop",
    ['24:5 Cannot put together devices.table: the lump "load" is nothing: give it a mass, a heat leak or both.'],
  ],
  [
    "points in a circle",
    "frame",
    "middle: { x: 0 um, y: 20 um }",
    "middle: { from: tip, x: 0 um, y: 20 um }",
    [
      '24:5 Cannot put together devices.table: points and parts are told from each other in a circle: point "middle", point "tip", point "middle".',
    ],
  ],
  [
    "an unknown point",
    "frame",
    "from: left root, to: middle, width",
    "from: left rot, to: middle, width",
    [
      '24:5 Cannot put together devices.table: there is no point "left rot": state it under points, or take one that a part has, such as "left middle".',
    ],
  ],
  [
    "a point with both ways",
    "frame",
    "tip: { from: middle, x: 0 um, y: 50 um }",
    "tip: { from: middle, x: 0 um, y: 50 um, distance: 3 um, direction: 0 deg }",
    ['24:5 Cannot put together devices.table: the point "tip" has both x or y and a distance: state one of the two ways.'],
  ],
  [
    "a distance without direction",
    "frame",
    "distance: 400 um, direction: 90 deg",
    "distance: 400 um",
    ['24:5 Cannot put together devices.table: the point "far" needs both a distance and a direction, or x and y.'],
  ],
  [
    "a point of half a place",
    "frame",
    "left root: { x: -500 um, y: 0 um }",
    "left root: { x: -500 um }",
    ['24:5 Cannot put together devices.table: the point "left root" needs x and y, for example { x: 0 um, y: 100 um }.'],
  ],
  [
    "two points of one name",
    "frame",
    "      beside: {",
    "      plate top: {",
    [
      '24:5 Cannot put together devices.table: two points are called "plate top": rename the one that you state, or the part that has the other.',
    ],
  ],
  [
    "two parts of one name",
    "frame",
    "    output: {",
    "    copies: { left: { of: [arm], mirror at y: 200 um } }\n    output: {",
    ['24:5 Cannot put together devices.table: two parts are called "left": rename one of them, or the copies it comes from.'],
  ],
  [
    "copies of nothing",
    "frame",
    "    output: {",
    "    copies: { twin: { of: [], mirror at y: 200 um } }\n    output: {",
    ['24:5 Cannot put together devices.table: the copies "twin" are of nothing: name the parts that are copied.'],
  ],
  [
    "copies of a stranger",
    "frame",
    "    output: {",
    "    copies: { twin: { of: [leg], mirror at y: 200 um } }\n    output: {",
    ['24:5 Cannot put together devices.table: the copies "twin" are of "leg", which is neither a part nor copies nor a point.'],
  ],
  [
    "copies of themselves",
    "frame",
    "    output: {",
    "    copies: { twin: { of: [twin], mirror at y: 200 um } }\n    output: {",
    [
      '24:5 Cannot put together devices.table: points and parts are told from each other in a circle: copies "twin", copies "twin".',
    ],
  ],
  [
    "copies both mirrored and in steps",
    "frame",
    "    output: {",
    "    copies: { twin: { of: [plate], mirror at y: 200 um, times: 2 } }\n    output: {",
    [
      '24:5 Cannot put together devices.table: the copies "twin" need exactly one of: mirror at x, mirror at y, or times with step x and step y.',
    ],
  ],
  [
    "copies without a step",
    "frame",
    "    output: {",
    "    copies: { twin: { of: [plate], times: 2 } }\n    output: {",
    ['24:5 Cannot put together devices.table: the copies "twin" need how many times, and a step that is not zero.'],
  ],
  [
    "slits through holes",
    "frame",
    "side: 10 um, pitch: 25 um }",
    "side: 10 um, pitch: 25 um }, slits: { count: 3, width: 4 um, pitch: 20 um, lengths: 1, length: 60 um }",
    [
      "24:5 Cannot put together devices.table: the slits and the holes of plate overlap: leave out one of them, or let the holes stand between the slits.",
    ],
  ],
  [
    "holes wider than their pitch",
    "frame",
    "side: 10 um, pitch: 25 um",
    "side: 25 um, pitch: 25 um",
    [
      "24:5 Cannot put together devices.table: the holes of plate run into each other: their pitch must be larger than their side.",
    ],
  ],
  [
    "holes that the etch joins",
    "frame",
    "side: 10 um, pitch: 25 um",
    "side: 24.4 um, pitch: 25 um",
    [
      "24:5 Cannot model devices.table: a web of plate cannot be built: a line of 0.60 um is etched away when each edge loses 0.50 um.",
    ],
  ],
  [
    "holes beyond the plate",
    "frame",
    "columns: 3",
    "columns: 5",
    ["24:5 Cannot put together devices.table: the holes of plate take 110.0 by 60.0 um, but it is 100.0 by 100.0 um."],
  ],
  [
    "holes that the etch lets out of the plate",
    "frame",
    "side: 10 um, pitch: 25 um",
    "side: 16 um, pitch: 41.8 um",
    [
      "24:5 Cannot model devices.table: the rim of plate cannot be built: a line of 0.20 um is etched away when each edge loses 0.50 um.",
    ],
  ],
  [
    "slits in two lengths without a rib",
    "frame",
    "holes: { columns: 3, rows: 3, side: 10 um, pitch: 25 um }",
    "slits: { count: 3, width: 8 um, pitch: 20 um, lengths: 2, length: 40 um }",
    [
      "24:5 Cannot put together devices.table: plate has slits of several lengths: they need a rib between them, for example rib: 20 um.",
    ],
  ],
  [
    "slits whose rib is etched away",
    "frame",
    "holes: { columns: 3, rows: 3, side: 10 um, pitch: 25 um }",
    "slits: { count: 3, width: 8 um, pitch: 20 um, lengths: 2, length: 40 um, rib: 0.9 um }",
    [
      "24:5 Cannot model devices.table: a rib of plate cannot be built: a line of 0.90 um is etched away when each edge loses 0.50 um.",
    ],
  ],
  [
    "slits wider than their pitch",
    "frame",
    "holes: { columns: 3, rows: 3, side: 10 um, pitch: 25 um }",
    "slits: { count: 3, width: 8 um, pitch: 8 um, lengths: 1, length: 40 um }",
    [
      "24:5 Cannot put together devices.table: the slits of plate run into each other: their pitch must be larger than their width.",
    ],
  ],
  [
    "a beam that is etched away",
    "frame",
    "to: middle, width: 8 um, role: leg",
    "to: middle, width: 1 um, role: leg",
    ["24:5 Cannot model devices.table: left arm cannot be built: a line of 1.00 um is etched away when each edge loses 0.50 um."],
  ],
  [
    "a bank that meets in a point",
    "frame",
    "      stop: { is: stop",
    "      push: { is: bent-beam bank, at: far, legs: { pairs: 2, length: 300 um, width: 6 um, tilt: 3 deg, pitch: 20 um }, shuttle: point, anchors: ideal }\n      stop: { is: stop",
    [
      "24:5 Cannot put together devices.table: the legs of 2 pairs do not meet in one point: give the shuttle a width and a height, or take one pair.",
    ],
  ],
  [
    "a bank without a pitch",
    "frame",
    "      stop: { is: stop",
    "      push: { is: bent-beam bank, at: far, legs: { pairs: 2, length: 300 um, width: 6 um, tilt: 3 deg }, shuttle: { width: 20 um, height: 100 um }, anchors: ideal }\n      stop: { is: stop",
    ["24:5 Cannot put together devices.table: legs of more than one pair need a pitch, for example 16 um."],
  ],
  [
    "a part of no known kind",
    "frame",
    "right arm: { is: curved beam",
    "right arm: { is: bowed beam",
    [
      '38:24 Cannot read devices.table.parts.right arm.is: "bowed beam" is not known here. The nearest is "beam"; allowed are anchor, beam, curved beam, plate, pad, wire, support, spring, stop, lump, bent-beam pair, bent-beam bank, cascade, hot and cold arm, clamped-guided beam, folded flexure, crab-leg, serpentine, slit blade, fixed slits.',
    ],
  ],
  [
    "a curve of no known shape",
    "frame",
    "shape: cosine",
    "shape: parabola",
    ['38:99 Cannot read devices.table.parts.right arm.shape: "parabola" is not known here. Allowed are arc, cosine.'],
  ],
  [
    "no plus",
    "frame",
    "heat: ideal, wire: plus",
    "heat: ideal",
    [
      '47:11 The case "hold" cannot feed devices.table: no anchor is wired to "plus": give one of them wire: plus.',
      '49:13 The case "pushed" cannot feed devices.table: no anchor is wired to "plus": give one of them wire: plus.',
      '50:11 The case "shot" cannot feed devices.table: no anchor is wired to "plus": give one of them wire: plus.',
    ],
  ],
  [
    "plus and minus apart",
    "frame",
    "right arm: { is: curved beam, from: right root, to: middle, width: 8 um, rise: 5 um, shape: cosine }",
    "third: { is: anchor, at: far, width: 20 um, height: 20 um, heat: ideal }",
    [
      '47:11 The case "hold" cannot feed devices.table: no silicon leads from "plus" to "minus": join their anchors with beams.',
      '49:13 The case "pushed" cannot feed devices.table: no silicon leads from "plus" to "minus": join their anchors with beams.',
      '50:11 The case "shot" cannot feed devices.table: no silicon leads from "plus" to "minus": join their anchors with beams.',
    ],
  ],
  [
    "a piece that nothing cools",
    "frame",
    "    output: { point: tip, direction: 90 deg }\n    heat loss: gas",
    "      raft: { is: plate, at: far, width: 20 um, height: 20 um }\n      foot: { is: support, at: far, holds: [x, y, turn, z] }\n    output: { point: tip, direction: 90 deg }\n    heat loss: none",
    [
      '49:11 The case "hold" cannot feed devices.table: nothing cools "raft": join it to an anchor, or let it lose heat.',
      '51:13 The case "pushed" cannot feed devices.table: nothing cools "raft": join it to an anchor, or let it lose heat.',
      '52:11 The case "shot" cannot feed devices.table: nothing cools "raft": join it to an anchor, or let it lose heat.',
    ],
  ],
  [
    "glass without thickness",
    "frame",
    "borosilicate glass 3.3, thickness: 500 um",
    "borosilicate glass 3.3",
    ['19:10 process.glass lacks "thickness": a length, for example 0.5 mm.'],
  ],
  [
    "glass under silicon that floats",
    "frame",
    "  glass: { material: borosilicate glass 3.3, thickness: 500 um }\n",
    "  glass: { material: borosilicate glass 3.3, thickness: 0 um }\n",
    [
      "19:57 Cannot read process.glass.thickness: 0 µm is too small; allowed is above 0 µm and at most 10 mm. An example is 0.5 mm.",
    ],
  ],
  [
    "glass of no known kind",
    "frame",
    "material: borosilicate glass 3.3",
    "material: window glass",
    [
      '19:22 Cannot read process.glass.material: "window glass" is not a built-in material. Known are silicon, polysilicon, polysilicon, classic set, p++ silicon, borosilicate glass 3.3, fused silica, thermal oxide, silicon nitride, low-stress silicon nitride, SU-8, polyimide, aluminium and 10 more.',
    ],
  ],
  [
    "a case of a strange device",
    "frame",
    "hold: { pads: 5 V }",
    "hold: { pads: 5 V, device: tabel }",
    ['47:32 The case "hold" names a device: "tabel" is not a device of this chip. The nearest is "table".'],
  ],
  [
    "a rise of a stranger",
    "frame",
    "part rises: { left arm",
    "part rises: { left leg",
    [
      '48:11 The case "warm" names a part under part rises: "left leg" is not a beam or plate of devices.table. Known are plate, left arm, right arm.',
    ],
  ],
  [
    "a strain beside a rise",
    "frame",
    "part rises: { left arm: 150 K }",
    "part strains: { left arm: 1e-4 }",
    ['48:11 The case "warm" has part strains without uniform strain: they stand beside each other.'],
  ],
  [
    "a force on a stranger",
    "frame",
    "forces: { tip: { y",
    "forces: { top: { y",
    ['49:13 The case "pushed" names a point under forces: "top" is not a point of devices.table. The nearest is "tip".'],
  ],
  [
    "a force in the air",
    "frame",
    "forces: { tip: { y",
    "forces: { far: { y",
    [
      '49:13 The case "pushed" names a point under forces: "far" lies on no part. A beam must end or have its joint there, or a plate lie there.',
    ],
  ],
  [
    "a strange point held",
    "frame",
    "held: { tip",
    "held: { tipp",
    ['49:13 The case "pushed" names a point under held: "tipp" is not a point of devices.table. The nearest is "tip".'],
  ],
  [
    "a point in the air held",
    "frame",
    "held: { tip",
    "held: { beside",
    [
      '49:13 The case "pushed" names a point under held: "beside" lies on no part. A beam must end or have its joint there, or a plate lie there.',
    ],
  ],
  [
    "a potential of plus",
    "frame",
    "hold: { pads: 5 V }",
    "hold: { pads: 5 V, potentials: { plus: 1 V } }",
    ['47:11 The case "hold" gives a potential to "plus": the drive sets that one. Name another net.'],
  ],
  [
    "a potential of a stranger",
    "frame",
    "hold: { pads: 5 V }",
    "hold: { pads: 5 V, potentials: { gate: 1 V } }",
    ['47:11 The case "hold" names a net: "gate" is not a further net of devices.table. There is none yet.'],
  ],
  [
    "an apex load without an output",
    "frame",
    "    output: { point: tip, direction: 90 deg }\n    heat loss: gas\n    trench: 24 um\n\ndrive:\n  supply: { limit: 12 V }\n  cases:\n    hold: { pads: 5 V }",
    "    heat loss: gas\n    trench: 24 um\n\ndrive:\n  supply: { limit: 12 V }\n  cases:\n    hold: { pads: 5 V, apex load: 1 uN }",
    ['46:11 The case "hold" has an apex load, but devices.table has no output that it could act on.'],
  ],
  [
    "no steps",
    "frame",
    "steps: [{ for: 3 ms, supply: 8 V, through: 30 ohm }, { for: 5 ms }]",
    "steps: []",
    ['50:11 The case "shot" has no step: give one or more, for example steps: [{ for: 5 ms, pads: 5 V }].'],
  ],
  [
    "a step of two drives",
    "frame",
    "{ for: 3 ms, supply: 8 V, through: 30 ohm }",
    "{ for: 3 ms, supply: 8 V, pads: 5 V }",
    ['50:11 Step 1 of the case "shot" has pads and supply: give one of them.'],
  ],
  [
    "a step above the supply",
    "frame",
    "{ for: 3 ms, supply: 8 V, through: 30 ohm }",
    "{ for: 3 ms, supply: 13 V }",
    ['50:11 The case "shot" asks the supply for 13 V, but drive.supply.limit is 12 V. Lower one or raise the other.'],
  ],
  [
    "a step of no time",
    "frame",
    "for: 3 ms, supply",
    "for: 0 ms, supply",
    [
      "50:28 Cannot read drive.cases.shot.steps.1.for: 0 µs is too small; allowed is above 0 µs and at most 27.78 h. An example is 3 ms.",
    ],
  ],
  [
    "steps and a steady drive",
    "frame",
    "shot: { steps",
    "shot: { pads: 3 V, steps",
    ['50:11 The case "shot" has both steps and pads: put the drive into a step.'],
  ],
  [
    "steps that follow",
    "frame",
    "shot: { steps",
    "shot: { follow: { state: 1 }, steps",
    ['50:11 The case "shot" has both steps and follow: a run in time comes to its states by itself.'],
  ],
  [
    "light through a beam",
    "frame",
    "    heat loss: gas",
    "    light: { blade: left arm, fixed slit: 6 um, offset: 0 um, cone: 10 deg, metal reflectance: 0.6, silicon index: 3.75 }\n    heat loss: gas",
    ['24:5 Cannot model devices.table: light names "left arm", which is no plate with slits.'],
  ],
  [
    "light through a plate without slits",
    "frame",
    "    heat loss: gas",
    "    light: { blade: plate, fixed slit: 6 um, offset: 0 um, cone: 10 deg, metal reflectance: 0.6, silicon index: 3.75 }\n    heat loss: gas",
    ['24:5 Cannot model devices.table: light names "plate", which is no plate with slits.'],
  ],
  [
    "a reflectance above one",
    "frame",
    "    heat loss: gas",
    "    light: { blade: plate, fixed slit: 6 um, offset: 0 um, cone: 10 deg, metal reflectance: 1.6, silicon index: 3.75 }\n    heat loss: gas",
    [
      "41:93 Cannot read devices.table.light.metal reflectance: 1.6 is too large; allowed is at least 0 and at most 1. An example is 0.6.",
    ],
  ],
  [
    "a cone beyond the horizon",
    "frame",
    "    heat loss: gas",
    "    light: { blade: plate, fixed slit: 6 um, offset: 0 um, cone: 100 deg, metal reflectance: 0.6, silicon index: 3.75 }\n    heat loss: gas",
    [
      "41:66 Cannot read devices.table.light.cone: 100° is too large; allowed is at least 0° and at most 89.95°. An example is 10 deg.",
    ],
  ],
  [
    "a requirement at a point that does not exist",
    "frame",
    "    where: tip\n",
    "    where: tipp\n",
    ['9:12 Cannot read the requirement "way of the table": "tipp" is not a point of the device. The nearest is "tip".'],
  ],
  [
    "a requirement on a part of another kind",
    "frame",
    "    need: at least 0.1 um\n    of: motion along y\n    where: tip",
    "    need: at most 1 MPa\n    of: stress\n    where: stop",
    ['9:12 Cannot read the requirement "way of the table": "stop" is a stop: stress is of a beam, such as left arm, right arm.'],
  ],
  [
    "a requirement on a part that does not exist",
    "frame",
    "    need: at least 0.1 um\n    of: motion along y\n    where: tip",
    "    need: at most 1 uN\n    of: contact force\n    where: left arn",
    [
      '9:12 Cannot read the requirement "way of the table": "left arn" is not a part of the device that contact force could be of. Known are stop.',
    ],
  ],
  [
    "a requirement that no part can have",
    "frame",
    "    need: at least 0.1 um\n    of: motion along y\n    where: tip",
    "    need: at most 1 um\n    of: side play\n    where: left arm\n    for: 500 gn",
    ['9:12 Cannot read the requirement "way of the table": "left arm" is a beam: side play is of a plate, such as plate.'],
  ],
  [
    "a requirement of light without light",
    "frame",
    "    need: at least 0.1 um\n    of: motion along y\n    where: tip",
    "    need: at least 0.1\n    of: light when open",
    [
      '8:9 Cannot read the requirement "way of the table": light when open is of a device with slits over slits, and devices.table has no light stated. A composition with a slit blade states it under light.',
    ],
  ],
];
