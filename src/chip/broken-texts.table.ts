/**
 * Broken chip texts: each row changes one piece of a valid text and states every problem that must be told, word for word, as
 * "line:column sentence". The base texts are the first two example chips, the second one shortened.
 */
import { metricWords } from "./metrics/vocabulary.table.ts";

/** One bent beam: the smallest complete chip. */
export const beamText = `chip: One bent beam
version: 1
note: A first device to change and to learn from. Invented; nothing was made or measured.

brief:
  - name: travel
    need: at least 2 um
    of: steady travel
    at: hold
  - name: current
    need: at most 15 mA
    of: supply current
    at: hold
  - name: hottest silicon
    need: at most 673 K
    of: hottest silicon temperature
    at: hold

surroundings: { gas: air, pressure: 101 kPa, temperature: 298 K }

process:
  flow: silicon on glass, two plates
  silicon thickness: 40 um ± 1 um
  gap under silicon: 10 um ± 0.5 um
  undercut per edge: assumed 0.5 um ± 0.15 um, default of this etch
  bias per edge: 0.5 um
  recess margin: 8 um
  silicon: { dopant: boron, resistivity: 0.0150 ohm cm ± 3 % }

parameters:
  leg width: 8 um

devices:
  pusher:
    is: bent-beam pair
    legs: { length: 500 um, width: leg width, tilt: 3 deg }
    shuttle: { width: 30 um, height: 40 um }
    anchors: { width: 300 um, height: 400 um, thermal resistance: assumed 600 K/W ± 25 % }
    heat loss: gas
    trench: 24 um

die: { size: { width: 2.5 mm, height: 2 mm }, street: 200 um, frame: 150 um, title: BENT BEAM }

drive:
  cases:
    hold: { pads: 5 V }
`;

/** Leafgate, shortened: a bank with pads and load, a supply with several cases, limits in lists, readings. */
export const leafText = `chip: Leafgate
version: 1
note: Invented demo.

brief:
  - name: travel
    need: 10 um within 1 um
    of: steady travel
    at: hold
  - name: voltage for the stroke
    need: at most 11.5 V
    of: pad voltage for travel
    for: 10 um
  - name: current
    limits:
      - need: at most 80 mA
        of: supply current
        at: hold
      - need: at most 80 mA
        of: cold inrush current
        at: full voltage
  - name: life
    of: no model
    proof: a bench run

surroundings:
  gas: air
  pressure: 101.325 kPa
  temperature: 298 K

process:
  flow: silicon on glass, three plates
  silicon thickness: 40 um ± 1 um
  gap under silicon: 7 um ± 0.35 um
  undercut per edge: assumed 0.5 um ± 0.15 um, default of this etch
  bias per edge: 0.5 um
  silicon:
    dopant: boron
    resistivity: 0.0150 ohm cm ± 3 %, four-point probe

parameters:
  leg width: 6 um

devices:
  drive:
    is: bent-beam bank
    legs: { pairs: 6, length: 800 um, width: leg width, tilt: 2.5 deg, pitch: 16 um }
    shuttle: { width: 24 um, height: 120 um }
    anchors: { width: 1 mm, height: 1.2 mm, thermal resistance: assumed 300 K/W ± 20 % }
    heat loss: gas
    trench: 24 um
    pads:
      force: { width: 500 um, height: 300 um }
      sense: { width: 200 um, height: 300 um }
      tab: 30 um

drive:
  supply: { limit: 12.6 V, limit current: 100 mA, series resistor: 37 ohm }
  cases:
    hold: { pads: 10.20 V }
    full voltage: { pads: 12 V }
    through resistor: { supply: 12 V }

readings:
  - of: undercut per edge
    found: measured 1.1 um ± 0.05 um, microscope, 2026-11-20
  - of: steady travel
    at: hold
    found: measured 8.28 um ± 0.06 um, picture correlation, 2026-11-21
`;

/** What is broken, in which base text, the piece replaced (it stands there once; "" is the whole text), its replacement, the problems. */
export type BrokenText = readonly [
  name: string,
  base: "beam" | "leaf",
  piece: string,
  replacement: string,
  problems: readonly string[],
];

export const brokenTexts: readonly BrokenText[] = [
  // the form of the text
  ["a tab", "beam", "  flow:", "\tflow:", ["22:1 This line is indented with a tab. Indent with blanks, two for each step."]],
  [
    "a line off its column",
    "beam",
    "  recess margin",
    "   recess margin",
    ["27:4 The indentation does not fit the lines above. Lines that belong together start in the same column."],
  ],
  [
    "a name twice",
    "beam",
    "  recess margin: 8 um",
    "  bias per edge: 8 um",
    ["27:3 This name stands here a second time in the same block. Each name may stand once: rename or delete one of them."],
  ],
  [
    "an open quote",
    "beam",
    "chip: One bent beam",
    'chip: "One bent beam',
    ['1:7 A closing quote is missing: the " that opens here is never closed.'],
  ],
  [
    "an open brace",
    "beam",
    "height: 40 um }",
    "height: 40 um",
    ["37:14 A closing bracket is missing: the { that opens here is never closed."],
  ],
  [
    "an open bracket in a list",
    "beam",
    "note: A",
    "note: [A",
    ["3:7 A closing bracket is missing: the [ that opens here is never closed."],
  ],
  [
    "no colon",
    "beam",
    "  flow: silicon",
    "  flow silicon",
    ["22:3 A name must stand on one line, followed by a colon and a blank. Perhaps one of them is missing."],
  ],
  [
    "no blank behind the colon",
    "beam",
    "  recess margin: 8 um",
    "  recess margin:8 um",
    ["27:3 A name must stand on one line, followed by a colon and a blank. Perhaps one of them is missing."],
  ],
  [
    "two documents",
    "beam",
    "\nparameters:",
    "---\nparameters:",
    ["29:1 A second document begins here (---). A chip text is a single document."],
  ],
  [
    "an alias",
    "beam",
    "width: leg width",
    "width: *leg",
    [
      "36:36 An alias (*) stands here. Aliases are not used in a chip text: give the value a name under parameters and write that name.",
    ],
  ],
  [
    "an anchor",
    "beam",
    "leg width: 8 um",
    "leg width: &w 8 um",
    ["31:14 An anchor (&w) stands here. Anchors are not used in a chip text: give the value a name under parameters."],
  ],
  [
    "a tag",
    "beam",
    "leg width: 8 um",
    "leg width: !!float 8",
    ["31:14 A tag (!) stands here. Tags are not used in a chip text; write the value as it is."],
  ],
  [
    "a merge key",
    "beam",
    "    trench: 24 um",
    "    <<: { trench: 24 um }",
    ["40:5 A merge key (<<) stands here. Merge keys are not used in a chip text: write the entries out."],
  ],
  [
    "a merge mark",
    "beam",
    "  bias per edge",
    "<<<<<<< mine\n  bias per edge",
    [
      '26:1 Two versions of this text were merged and not reconciled: "<<<<<<< mine" is a merge mark. Keep the lines you want and delete the marks.',
    ],
  ],
  [
    "a control character",
    "beam",
    "One bent",
    "One\u0007bent",
    ["1:10 An invisible control character (U+0007) stands here. Delete it; the file may be damaged or not be a text."],
  ],
  ["empty text", "beam", "", "", ['1:1 This text is empty. Begin with a line such as "chip: Leafgate".']],
  [
    "a list at the top",
    "beam",
    "",
    "- chip: One bent beam\n- version: 1\n",
    ['1:1 A chip text is made of named sections. Begin with a line such as "chip: Leafgate".'],
  ],
  [
    "only comments",
    "beam",
    "",
    "# One bent beam\n",
    ['1:1 A chip text is made of named sections. Begin with a line such as "chip: Leafgate".'],
  ],
  [
    "a lone word",
    "beam",
    "",
    "Leafgate\n",
    ['1:1 A chip text is made of named sections. Begin with a line such as "chip: Leafgate".'],
  ],
  [
    "a colon in a text",
    "beam",
    "note: A first device",
    "note: Warning: a first device",
    ['3:7 A second colon stands in this value. A text with a colon inside must stand in "quotes".'],
  ],
  // version
  ["no version", "beam", "version: 1\n", "", ['1:1 The chip text lacks "version": a whole number from 1 to 1, for example 1.']],
  [
    "a newer version",
    "beam",
    "version: 1",
    "version: 2",
    [
      "2:10 This text is of version 2; this program knows versions up to 1. Use a newer program, or write version: 1 if the text was made for it.",
    ],
  ],
  ["version 0", "beam", "version: 1", "version: 0", ["2:10 Version 0 never existed; the first is 1. Write version: 1."]],
  [
    "version as text",
    "beam",
    "version: 1",
    "version: first",
    ['2:10 Cannot read version: expected a whole number from 1 to 1, for example 1; found "first".'],
  ],
  // sections, keys, kinds
  [
    "unknown section",
    "beam",
    "surroundings: {",
    "suroundings: {",
    [
      '19:1 "suroundings" is not known at the top of a chip text. The nearest is "surroundings"; allowed are chip, version, note, brief, surroundings, materials, process, parameters, devices, die, drive, readings, term.',
    ],
  ],
  [
    "unknown key",
    "beam",
    "  silicon thickness",
    "  silicon thicknes",
    [
      '23:3 "silicon thicknes" is not known in process. The nearest is "silicon thickness"; allowed are flow, silicon thickness, gap under silicon, undercut per edge, bias per edge, recess margin, recess undercut per edge, bond strain, glass, silicon.',
    ],
  ],
  [
    "unknown key in braces",
    "beam",
    "tilt: 3 deg",
    "tlit: 3 deg",
    ['36:47 "tlit" is not known in devices.pusher.legs. The nearest is "tilt"; allowed are length, width, tilt, fillet.'],
  ],
  [
    "missing section",
    "beam",
    "drive:\n  cases:\n    hold: { pads: 5 V }\n",
    "",
    ['1:1 The chip text lacks "drive": a block with supply, cases.'],
  ],
  [
    "missing key",
    "beam",
    "  silicon thickness: 40 um ± 1 um\n",
    "",
    ['22:3 process lacks "silicon thickness": a length, for example 40 um ± 1 um.'],
  ],
  [
    "a list for a block",
    "beam",
    "  cases:\n    hold: { pads: 5 V }",
    "  cases:\n    - hold",
    [
      "46:5 Cannot read drive.cases: expected an operating case with a name and a colon, for example hold: { pads: 10.2 V }; found a list.",
    ],
  ],
  [
    "a word for a block",
    "beam",
    "shuttle: { width: 30 um, height: 40 um }",
    "shuttle: 30 um",
    [
      '37:14 Cannot read devices.pusher.shuttle: "30 um" is not known here. Expected the word point, or a block with width, height.',
    ],
  ],
  [
    "a block for a quantity",
    "beam",
    "trench: 24 um",
    "trench: { width: 24 um }",
    ["40:13 Cannot read devices.pusher.trench: expected a length, for example 24 um; found a block of names."],
  ],
  [
    "nothing for a quantity",
    "beam",
    "trench: 24 um",
    "trench:",
    ["40:12 Cannot read devices.pusher.trench: expected a length, for example 24 um; found nothing."],
  ],
  [
    "a list for a text",
    "beam",
    "chip: One bent beam",
    "chip: [One, two]",
    ["1:7 Cannot read chip: expected a text, for example Leafgate; found a list."],
  ],
  [
    "a truth value for a quantity",
    "beam",
    "recess margin: 8 um",
    "recess margin: yes",
    ['27:18 Cannot work out process.recess margin: nothing is called "yes". Parameters are leg width.'],
  ],
  [
    "a truth value proper",
    "beam",
    "recess margin: 8 um",
    "recess margin: true",
    ['27:18 Cannot read process.recess margin: expected a length, for example 8 um; found "true".'],
  ],
  [
    "unknown choice",
    "beam",
    "gas: air",
    "gas: nitrogenn",
    [
      '19:22 Cannot read surroundings.gas: "nitrogenn" is not known here. The nearest is "nitrogen"; allowed are air, nitrogen, helium, argon, vacuum.',
    ],
  ],
  [
    "unknown flow",
    "beam",
    "flow: silicon on glass, two plates",
    "flow: silicon on glass",
    [
      '22:9 Cannot read process.flow: "silicon on glass" is not known here. The nearest is "silicon on glass, two plates"; allowed are silicon on glass, three plates, silicon on glass, two plates, silicon on insulator, idealised.',
    ],
  ],
  [
    "a bare number for a whole number",
    "leaf",
    "pairs: 6",
    "pairs: 6.5",
    ["47:20 Cannot read devices.drive.legs.pairs: expected a whole number from 1 to 400, for example 6; found the number 6.5."],
  ],
  [
    "a name that begins with a digit",
    "beam",
    "  leg width: 8 um",
    "  leg width: 8 um\n  2nd width: 9 um",
    [
      '32:3 "2nd width" cannot be the name of a parameter: a name begins with a letter and holds at most 60 letters, digits, blanks, hyphens and underscores, for example leg width: 6 um.',
    ],
  ],
  // units
  [
    "no unit",
    "beam",
    "recess margin: 8 um",
    "recess margin: 8",
    ["27:18 Cannot read process.recess margin: 8 has no unit; expected a length, for example 8 um."],
  ],
  [
    "unknown unit",
    "beam",
    "recess margin: 8 um",
    "recess margin: 8 umm",
    [
      '27:20 Cannot read process.recess margin: "umm" is not a unit known here; the nearest is "um". Expected a length, for example 8 um.',
    ],
  ],
  [
    "microns",
    "beam",
    "recess margin: 8 um",
    "recess margin: 8 microns",
    [
      '27:20 Cannot read process.recess margin: "microns" is not a unit known here; the nearest is "um". Expected a length, for example 8 um.',
    ],
  ],
  [
    "wrong dimension",
    "beam",
    "recess margin: 8 um",
    "recess margin: 8 V",
    ['27:18 Cannot read process.recess margin: expected a length, found a voltage ("8 V"). An example is 8 um.'],
  ],
  [
    "decimal comma",
    "beam",
    "resistivity: 0.0150 ohm cm ± 3 %",
    'resistivity: "0,0150 ohm cm"',
    [
      '28:43 Cannot read process.silicon.resistivity: "0,0150" can be read in two ways: write a decimal point, 0.0150, and no mark for thousands. Expected a resistivity, for example 0.0150 ohm cm ± 3 %.',
    ],
  ],
  [
    "decimal comma on its line",
    "beam",
    "recess margin: 8 um",
    "recess margin: 8,5 um",
    [
      '27:18 Cannot read process.recess margin: "8,5" can be read in two ways: write a decimal point, 8.5, and no mark for thousands. Expected a length, for example 8 um.',
    ],
  ],
  [
    "thousands comma",
    "beam",
    "recess margin: 8 um",
    "recess margin: 1,000 um",
    [
      '27:18 Cannot read process.recess margin: "1,000" can be read in two ways: write 1.000 with a decimal point, or 1000 without a mark for thousands. Expected a length, for example 8 um.',
    ],
  ],
  [
    "decimal comma in braces",
    "beam",
    "pads: 5 V",
    "pads: 5,5 V",
    [
      '46:19 Cannot read drive.cases.hold.pads: "5,5 V" has a decimal comma, which ends an entry inside { }. Write a decimal point, 5.5 V.',
    ],
  ],
  [
    "an open bar",
    "beam",
    "thermal resistance: assumed 600 K/W ± 25 %",
    "thermal resistance: 600 K/W m",
    [
      '38:75 Cannot read devices.pusher.anchors.thermal resistance: the unit "K/W m" can be read in two ways: put what stands under the bar in brackets, as in W/(m K). Expected a thermal resistance, for example 300 K/W ± 20 %.',
    ],
  ],
  [
    "a wrong Greek letter",
    "beam",
    "recess margin: 8 um",
    "recess margin: 8 σm",
    [
      '27:20 Cannot read process.recess margin: "σm" is not a unit known here; the nearest is "m". Expected a length, for example 8 um.',
    ],
  ],
  [
    "big letters",
    "beam",
    "pads: 5 V",
    "pads: 5 MVV",
    [
      '46:21 Cannot read drive.cases.hold.pads: "MVV" is not a unit known here; the nearest is "mV". Expected a voltage, for example 10.2 V.',
    ],
  ],
  // temperatures
  [
    "a sum of kelvins for a temperature",
    "beam",
    "temperature: 298 K",
    "temperature: 273 K + 25 K",
    [
      '19:59 Cannot read surroundings.temperature: expected a temperature, found a temperature rise ("273 K + 25 K"; kelvins in a sum count as a rise). Write the temperature in °C, or alone in K.',
    ],
  ],
  [
    "degrees for a rise",
    "beam",
    "pads: 5 V",
    "uniform rise: 200 °C",
    [
      '46:27 Cannot read drive.cases.hold.uniform rise: expected a temperature rise in K, found a temperature in °C ("200 °C"). Write the rise, for example 200 K.',
    ],
  ],
  [
    "degrees in a spread",
    "beam",
    "temperature: 298 K",
    "temperature: 25 °C ± 2 °C",
    ["19:67 Cannot work out surroundings.temperature: a spread of a temperature is a rise, in K."],
  ],
  [
    "two temperatures added",
    "beam",
    "temperature: 298 K",
    "temperature: 25 °C + 3 °C",
    ["19:65 Cannot work out surroundings.temperature: cannot add two temperatures: one of them must be a rise, in K."],
  ],
  [
    "too cold",
    "beam",
    "temperature: 298 K",
    "temperature: 25 K",
    [
      "19:59 Cannot read surroundings.temperature: 25 K is too small; allowed is at least 200 K and at most 500 K. An example is 298 K.",
    ],
  ],
  // arithmetic
  [
    "unknown name",
    "beam",
    "width: leg width",
    "width: leg widht",
    ['36:36 Cannot work out devices.pusher.legs.width: nothing is called "leg widht"; the nearest is "leg width".'],
  ],
  [
    "unknown name far from all",
    "beam",
    "width: leg width",
    "width: quantum foam",
    ['36:36 Cannot work out devices.pusher.legs.width: nothing is called "quantum foam". Parameters are leg width.'],
  ],
  [
    "circle of two",
    "beam",
    "  leg width: 8 um",
    "  leg width: slit + 1 um\n  slit: leg width / 2",
    [
      "31:14 These quantities refer to each other in a circle: leg width → slit → leg width. Give one of them a value of its own.",
    ],
  ],
  [
    "circle of three",
    "beam",
    "  leg width: 8 um",
    "  leg width: a1\n  a1: b1 * 2\n  b1: leg width",
    [
      "31:14 These quantities refer to each other in a circle: leg width → a1 → b1 → leg width. Give one of them a value of its own.",
    ],
  ],
  [
    "circle of one",
    "beam",
    "  leg width: 8 um",
    "  leg width: leg width + 1 um",
    ["31:14 These quantities refer to each other in a circle: leg width → leg width. Give one of them a value of its own."],
  ],
  [
    "a length and a voltage",
    "beam",
    "width: leg width",
    "width: leg width + 2 V",
    ["36:46 Cannot work out devices.pusher.legs.width: cannot add a length and a voltage."],
  ],
  [
    "divided by zero",
    "beam",
    "width: leg width",
    "width: leg width / 0",
    ["36:46 Cannot work out devices.pusher.legs.width: cannot divide by zero."],
  ],
  [
    "an open bracket",
    "beam",
    "leg width: 8 um",
    "leg width: 2 * (3 um + 1 um",
    ["31:18 Cannot read parameters.leg width: a bracket is not closed. Expected a value, for example 6 um."],
  ],
  [
    "a bracket too many",
    "beam",
    "leg width: 8 um",
    "leg width: 2 * 3 um)",
    ['31:22 Cannot read parameters.leg width: ")" is not expected here. Expected a value, for example 6 um.'],
  ],
  [
    "no operator",
    "beam",
    "leg width: 8 um",
    "leg width: 4 um 2",
    [
      '31:19 Cannot read parameters.leg width: an operator (+ - * / ^) is missing before "2". Expected a value, for example 6 um.',
    ],
  ],
  [
    "ends with an operator",
    "beam",
    "leg width: 8 um",
    "leg width: 4 um +",
    ["31:20 Cannot read parameters.leg width: a value is missing at the end. Expected a value, for example 6 um."],
  ],
  [
    "unknown function",
    "beam",
    "leg width: 8 um",
    "leg width: maxx(4 um, 8 um)",
    [
      '31:14 Cannot read parameters.leg width: "maxx" is not a function known here; the nearest is "max". Expected a value, for example 6 um.',
    ],
  ],
  [
    "ambiguous name",
    "beam",
    "  leg width: 8 um",
    "  leg width: height / 5",
    [
      '31:14 Cannot work out parameters.leg width: "height" may mean devices.pusher.shuttle.height or devices.pusher.anchors.height or die.size.height: write more of the path.',
    ],
  ],
  [
    "sign without meaning",
    "beam",
    "leg width: 8 um",
    "leg width: 8 um ~ 1 um",
    ['31:19 Cannot read parameters.leg width: "~" has no meaning in a sum. Expected a value, for example 6 um.'],
  ],
  // spreads and dates
  [
    "spread below zero",
    "beam",
    "10 um ± 0.5 um",
    "10 um ± -0.5 um",
    ["24:30 Cannot work out process.gap under silicon: a spread cannot be below zero."],
  ],
  [
    "spread of another kind",
    "beam",
    "10 um ± 0.5 um",
    "10 um ± 0.5 V",
    ["24:30 Cannot work out process.gap under silicon: the value is a length but its spread is a voltage."],
  ],
  [
    "nothing behind ±",
    "beam",
    "10 um ± 0.5 um",
    "10 um ±",
    [
      "24:29 Cannot read process.gap under silicon: nothing stands here; a value is wanted. Expected a length, for example 7 um ± 0.35 um.",
    ],
  ],
  [
    "reversed interval",
    "beam",
    "10 um ± 0.5 um",
    "12 um to 8 um",
    ["24:31 Cannot work out process.gap under silicon: the second value must be above the first."],
  ],
  [
    "interval of two kinds",
    "beam",
    "10 um ± 0.5 um",
    "8 um to 12 V",
    ["24:30 Cannot work out process.gap under silicon: the value is a length but its spread is a voltage."],
  ],
  [
    "share of a spread that is not there",
    "beam",
    "10 um ± 0.5 um",
    "10 um per wafer",
    [
      '24:22 Cannot read process.gap under silicon: "per wafer" tells how a spread is shared, but no spread (±) is given. Expected a length, for example 7 um ± 0.35 um.',
    ],
  ],
  [
    "no such day",
    "leaf",
    "microscope, 2026-11-20",
    "microscope, 2026-02-30",
    ["66:51 Cannot read what was found: 2026-02-30 is not a day of the calendar (year-month-day)."],
  ],
  [
    "two dates",
    "leaf",
    "microscope, 2026-11-20",
    "2026-11-19, 2026-11-20",
    ["66:51 Cannot read what was found: two dates are given, 2026-11-19 and 2026-11-20."],
  ],
  [
    "nothing behind a comma",
    "beam",
    "default of this etch",
    "",
    [
      "25:47 Cannot read process.undercut per edge: nothing stands behind a comma. Expected a length, for example assumed 0.5 um ± 0.15 um, default of this etch.",
    ],
  ],
  [
    "phrase cut by braces",
    "beam",
    "0.0150 ohm cm ± 3 % }",
    "0.0150 ohm cm ± 3 %, four-point probe }",
    [
      '28:63 Inside { } a comma ends an entry, so "four-point probe" is cut off from "resistivity". Write "resistivity" on a line of its own, without the brackets, or put the phrase in "quotes".',
    ],
  ],
  [
    "phrase cut in three",
    "beam",
    "0.0150 ohm cm ± 3 % }",
    "measured 0.0150 ohm cm, probe, 2026-11-20 }",
    [
      '28:66 Inside { } a comma ends an entry, so "probe" is cut off from "resistivity". Write "resistivity" on a line of its own, without the brackets, or put the phrase in "quotes".',
      '28:73 Inside { } a comma ends an entry, so "2026-11-20" is cut off from "resistivity". Write "resistivity" on a line of its own, without the brackets, or put the phrase in "quotes".',
    ],
  ],
  // ranges
  [
    "thickness below zero",
    "beam",
    "silicon thickness: 40 um",
    "silicon thickness: -40 um",
    [
      "23:22 Cannot read process.silicon thickness: −40 µm is too small; allowed is above 0 µm and at most 1 mm. An example is 40 um ± 1 um.",
    ],
  ],
  [
    "thickness of millimetres",
    "beam",
    "silicon thickness: 40 um",
    "silicon thickness: 40 mm",
    [
      "23:22 Cannot read process.silicon thickness: 40 mm is too large; allowed is above 0 µm and at most 1 mm. An example is 40 um ± 1 um.",
    ],
  ],
  [
    "legs upright",
    "beam",
    "tilt: 3 deg",
    "tilt: 90 deg",
    [
      "36:53 Cannot read devices.pusher.legs.tilt: 90° is too large; allowed is above 0° and at most 45.84°. An example is 2.5 deg.",
    ],
  ],
  [
    "no width",
    "beam",
    "leg width: 8 um",
    "leg width: 0 um",
    [
      "36:36 Cannot read devices.pusher.legs.width: 0 µm is too small; allowed is above 0 µm and at most 20 mm. An example is 6 um.",
    ],
  ],
  [
    "no width drawn",
    "beam",
    "width: 30 um",
    "width: 0 um",
    [
      "37:23 Cannot read devices.pusher.shuttle.width: 0 µm is too small; allowed is above 0 µm and at most 20 mm. An example is 24 um.",
    ],
  ],
  [
    "no pairs",
    "leaf",
    "pairs: 6",
    "pairs: 0",
    ["47:20 Cannot read devices.drive.legs.pairs: expected a whole number from 1 to 400, for example 6; found the number 0."],
  ],
  // silicon and materials
  [
    "material and dopant",
    "beam",
    "dopant: boron, resistivity: 0.0150 ohm cm ± 3 %",
    "dopant: boron, material: silicon",
    ["28:22 process.silicon has both a material and a dopant: a material has its own resistivity, so delete one of the two."],
  ],
  [
    "no dopant",
    "beam",
    "dopant: boron, resistivity",
    "resistivity",
    ['28:12 process.silicon lacks "dopant" (or "material"): write for example dopant: boron and resistivity: 0.0150 ohm cm.'],
  ],
  [
    "neither resistivity nor concentration",
    "beam",
    "dopant: boron, resistivity: 0.0150 ohm cm ± 3 %",
    "dopant: boron",
    [
      '28:12 process.silicon lacks "resistivity" or "concentration": give one of the two, for example resistivity: 0.0150 ohm cm.',
    ],
  ],
  [
    "resistivity and concentration",
    "beam",
    "dopant: boron, resistivity",
    "dopant: boron, concentration: 5e18 cm^-3, resistivity",
    [
      '28:12 process.silicon has both "resistivity" and "concentration": give one of the two, for example resistivity: 0.0150 ohm cm.',
    ],
  ],
  [
    "resistivity beyond what is allowed",
    "beam",
    "0.0150 ohm cm",
    "500 ohm cm",
    [
      "28:42 Cannot read process.silicon.resistivity: 5 Ω m is too large; allowed is above 0 Ω m and at most 1 Ω m. An example is 0.0150 ohm cm ± 3 %.",
    ],
  ],
  [
    "resistivity beyond the published",
    "beam",
    "0.0150 ohm cm",
    "0.000001 ohm cm",
    [
      "28:42 Cannot convert the resistivity of boron-doped silicon in ohm cm: wanted 0.0001 to 10000, found 0.000001 in process.silicon.",
    ],
  ],
  [
    "concentration beyond the published",
    "beam",
    "resistivity: 0.0150 ohm cm ± 3 %",
    "concentration: 1e21 cm^-3",
    [
      "28:44 Cannot tell the conductivity of doped silicon: wanted a concentration of 0 to 3e+26 /m^3, found 9.999999999999999e+26 in process.silicon.",
    ],
  ],
  [
    "unknown dopant",
    "beam",
    "dopant: boron",
    "dopant: borron",
    [
      '28:22 Cannot read process.silicon.dopant: "borron" is not known here. The nearest is "boron"; allowed are boron, phosphorus, arsenic.',
    ],
  ],
  [
    "unknown material",
    "beam",
    "dopant: boron, resistivity: 0.0150 ohm cm ± 3 %",
    "material: silicium",
    [
      '28:24 Cannot read process.silicon.material: "silicium" is not a material. Known are silicon, polysilicon, polysilicon, classic set, p++ silicon, borosilicate glass 3.3, fused silica, thermal oxide, silicon nitride, low-stress silicon nitride, SU-8, polyimide, aluminium and 10 more.',
    ],
  ],
  [
    "based on an unknown material",
    "beam",
    "parameters:",
    "materials:\n  mine: { based on: silicone }\nparameters:",
    ['31:21 Cannot read materials.mine: "silicone" is not a built-in material. The nearest is "silicon".'],
  ],
  [
    "a law missing",
    "beam",
    "dopant: boron, resistivity: 0.0150 ohm cm ± 3 % }\n",
    "material: mine }\nmaterials:\n  mine: { conductivity: 120 W/(m K), expansion: 2.6 ppm/K, young modulus: 169 GPa }\n",
    ['30:9 The material "mine" lacks "resistivity": write for example resistivity: 0.015 ohm cm, or lend it by "based on".'],
  ],
  [
    "a law of another unit",
    "beam",
    "parameters:",
    "materials:\n  mine: { conductivity: 120 GPa }\nparameters:",
    [
      '31:25 Cannot read materials.mine.conductivity: expected a thermal conductivity, found a pressure or stress ("120 GPa"). An example is 120 W/(m K).',
    ],
  ],
  [
    "a law without unit",
    "beam",
    "parameters:",
    "materials:\n  mine: { conductivity: 120 }\nparameters:",
    ["31:25 Cannot read materials.mine.conductivity: 120 has no unit; expected a thermal conductivity, for example 120 W/(m K)."],
  ],
  [
    "a stranger in a formula",
    "beam",
    "parameters:",
    "materials:\n  mine:\n    conductivity: { formula: 2 * leg width, unit: W/(m K), range: 250 K to 1000 K, source: own }\nparameters:",
    [
      '32:19 Cannot read materials.mine.conductivity: the formula names "leg width"; only T, the temperature in kelvin, is known in a law.',
    ],
  ],
  [
    "a formula with a unit",
    "beam",
    "parameters:",
    "materials:\n  mine:\n    conductivity: { formula: 3/T, unit: W/(m K), range: 250 K to 1000 K, source: own }\nparameters:",
    [
      '32:19 Cannot read materials.mine.conductivity: "/T" is read as a unit in its formula, but T and all numbers in a law are pure numbers. Leave units out and write blanks round operators, for example 3 / T or 2 * T.',
    ],
  ],
  [
    "a formula of another unit",
    "beam",
    "parameters:",
    "materials:\n  mine:\n    conductivity: { formula: 2 * T, unit: ohm cm, range: 250 K to 1000 K, source: own }\nparameters:",
    ['32:19 Cannot read materials.mine.conductivity: its unit "ohm cm" is a resistivity; expected a thermal conductivity.'],
  ],
  [
    "a formula with a broken unit",
    "beam",
    "parameters:",
    "materials:\n  mine:\n    conductivity: { formula: 2 * T, unit: W/m K, range: 250 K to 1000 K, source: own }\nparameters:",
    [
      '32:19 Cannot read the unit of materials.mine.conductivity: "W/m K" can be read in two ways: put what stands under the bar in brackets, as in W/(m K).',
    ],
  ],
  [
    "a formula that breaks off",
    "beam",
    "parameters:",
    "materials:\n  mine:\n    conductivity: { formula: 2 * (T, unit: W/(m K), range: 250 K to 1000 K, source: own }\nparameters:",
    ["32:19 Cannot read the formula of materials.mine.conductivity: a bracket is not closed."],
  ],
  [
    "a formula without range",
    "beam",
    "parameters:",
    "materials:\n  mine:\n    conductivity: { formula: 2 * T, unit: W/(m K), source: own }\nparameters:",
    ['32:19 materials.mine.conductivity lacks "range": a temperature, for example 250 K to 1000 K.'],
  ],
  [
    "a range of one temperature",
    "beam",
    "parameters:",
    "materials:\n  mine:\n    conductivity: { formula: 2 * T, unit: W/(m K), range: 300 K, source: own }\nparameters:",
    [
      "32:19 Cannot read the range of materials.mine.conductivity: write a lower and an upper temperature, for example 250 K to 1000 K.",
    ],
  ],
  [
    "a table of two lengths",
    "beam",
    "parameters:",
    "materials:\n  mine:\n    conductivity: { temperatures: [300 K, 400 K], values: [120 W/(m K)], source: own }\nparameters:",
    [
      "32:19 Cannot read materials.mine.conductivity: 2 temperatures and 1 values were given; a table needs the same number of both, at least two.",
    ],
  ],
  [
    "a table that falls",
    "beam",
    "dopant: boron, resistivity: 0.0150 ohm cm ± 3 % }\n",
    "material: mine }\nmaterials:\n  mine:\n    based on: silicon\n    conductivity: { temperatures: [400 K, 300 K], values: [120 W/(m K), 90 W/(m K)], source: own }\n",
    [
      "32:43 Cannot read materials.mine.conductivity: its temperatures must rise, but 300 K stands behind 400 K. Write the rows in rising order.",
    ],
  ],
  [
    "a table value of another kind",
    "beam",
    "parameters:",
    "materials:\n  mine:\n    conductivity: { temperatures: [300 K, 400 K], values: [120 W/(m K), 90 GPa], source: own }\nparameters:",
    [
      '32:73 Cannot read materials.mine.conductivity.values.2: expected a thermal conductivity, found a pressure or stress ("90 GPa"). An example is 120 W/(m K).',
    ],
  ],
  // surroundings
  [
    "gas without pressure",
    "beam",
    "gas: air, pressure: 101 kPa",
    "gas: air",
    ['19:15 surroundings lacks "pressure": a gas has one, for example 101 kPa.'],
  ],
  [
    "gas loss without a gap",
    "beam",
    "  gap under silicon: 10 um ± 0.5 um\n",
    "",
    ['34:5 Cannot model devices.pusher: the loss to the gas needs "gap under silicon" in the section process.'],
  ],
  // devices
  [
    "unknown family",
    "beam",
    "is: bent-beam pair",
    "is: bent beam pair",
    [
      '35:9 Cannot read devices.pusher.is: "bent beam pair" is not known here. The nearest is "bent-beam pair"; allowed are bent-beam pair, bent-beam bank, straight bar, cascade, hot and cold arm, suspended plate, composition.',
    ],
  ],
  [
    "no family",
    "beam",
    "    is: bent-beam pair\n",
    "",
    [
      '35:5 devices.pusher lacks "is": one of bent-beam pair, bent-beam bank, straight bar, cascade, hot and cold arm, suspended plate, composition.',
    ],
  ],
  [
    "no legs",
    "beam",
    "    legs: { length: 500 um, width: leg width, tilt: 3 deg }\n",
    "",
    ['35:5 devices.pusher lacks "legs": a block with length, width, tilt, fillet.'],
  ],
  [
    "no pitch",
    "leaf",
    ", pitch: 16 um",
    "",
    ["46:5 Cannot put together devices.drive: legs of more than one pair need a pitch, for example 16 um."],
  ],
  [
    "pitch narrower than a leg",
    "leaf",
    "pitch: 16 um",
    "pitch: 4 um",
    ["46:5 Cannot put together devices.drive: the pitch of the legs must be larger than their width."],
  ],
  [
    "shuttle too low",
    "leaf",
    "width: 24 um, height: 120 um",
    "width: 24 um, height: 60 um",
    ["46:5 Cannot put together devices.drive: the shuttle is 60.0 um high, but its legs meet it over 80.0 um: make it higher."],
  ],
  [
    "pads wider than the anchor",
    "leaf",
    "force: { width: 500 um",
    "force: { width: 900 um",
    ["46:5 Cannot put together devices.drive: the pads are wider than the anchor that they stand at."],
  ],
  [
    "heat loss given twice",
    "beam",
    "heat loss: gas",
    "heat loss: { per length: 0.1 W/(m K), film: 2600 W/(m^2 K) }",
    ['35:5 Cannot put together devices.pusher: a given heat loss is either "per length" or a "film", one of the two.'],
  ],
  [
    "heat loss given neither way",
    "beam",
    "heat loss: gas",
    "heat loss: {}",
    ['35:5 Cannot put together devices.pusher: a given heat loss is either "per length" or a "film", one of the two.'],
  ],
  [
    "heat loss unknown",
    "beam",
    "heat loss: gas",
    "heat loss: air",
    [
      '39:16 Cannot read devices.pusher.heat loss: "air" is not known here. Expected one of the words gas, none, or a block with per length, film.',
    ],
  ],
  [
    "undercut eats the legs",
    "beam",
    "bias per edge: 0.5 um",
    "bias per edge: -4 um",
    [
      "35:5 Cannot model devices.pusher: leg 1 left cannot be built: a line of 8.00 um is etched away when each edge loses 4.50 um.",
    ],
  ],
  [
    "legs of a pair with pairs",
    "beam",
    "legs: { length",
    "legs: { pairs: 2, length",
    ['36:13 "pairs" is not known in devices.pusher.legs. Allowed are length, width, tilt, fillet.'],
  ],
  // brief
  [
    "unknown metric",
    "leaf",
    "of: pad voltage for travel",
    "of: pad voltage for travle",
    [
      '12:9 Cannot read the requirement "voltage for the stroke": "pad voltage for travle" is not a metric. The nearest is "pad voltage for travel".',
    ],
  ],
  [
    "unknown metric far from all",
    "beam",
    "of: supply current",
    "of: happiness",
    [
      `12:9 Cannot read the requirement "current": "happiness" is not a metric. Known are steady travel, rest position, supply current, cold inrush current, pad voltage, pad power, supply power, hottest silicon temperature, mean leg temperature, shuttle temperature, anchor temperature, mean leg strain and ${metricWords.length + 1 - 12} more.`,
    ],
  ],
  [
    "limit not worded",
    "leaf",
    "need: at most 11.5 V",
    "need: 11.5 V",
    [
      '11:11 Cannot read the requirement "voltage for the stroke": "11.5 V" is not worded as a limit; write "at least 11 um", "at most 80 mA", "10 um within 1 um" or "between 9 um and 11 um".',
    ],
  ],
  [
    "limit with a sign",
    "leaf",
    "need: at most 11.5 V",
    "need: <= 11.5 V",
    [
      '11:11 Cannot read the requirement "voltage for the stroke": "<= 11.5 V" is not worded as a limit; write "at least 11 um", "at most 80 mA", "10 um within 1 um" or "between 9 um and 11 um".',
    ],
  ],
  [
    "limit of another kind",
    "leaf",
    "need: at most 11.5 V",
    "need: at most 11.5 mA",
    ['11:11 Cannot compare the requirement "voltage for the stroke": its metric is a voltage, but its limit is a current.'],
  ],
  [
    "limit without unit",
    "leaf",
    "need: at most 11.5 V",
    "need: at most 11.5",
    ['11:11 Cannot compare the requirement "voltage for the stroke": its metric is a voltage, but its limit is a pure number.'],
  ],
  [
    "limit without value",
    "leaf",
    "need: at most 11.5 V",
    "need: at most",
    [
      '11:11 Cannot read the requirement "voltage for the stroke": "at most" is not worded as a limit; write "at least 11 um", "at most 80 mA", "10 um within 1 um" or "between 9 um and 11 um".',
    ],
  ],
  [
    "limit names a stranger",
    "leaf",
    "need: at most 11.5 V",
    "need: at most leg widht",
    [
      '11:19 Cannot work out the requirement "voltage for the stroke": nothing is called "leg widht"; the nearest is "leg width".',
    ],
  ],
  [
    "limit of unknown unit in a list",
    "leaf",
    "need: at most 80 mA\n        of: supply",
    "need: at most 80 mAmp\n        of: supply",
    [
      '16:26 Cannot read the requirement "current": "mAmp" is not a unit known here; examples of units are um, V, mA, K, MPa, W/(m K).',
    ],
  ],
  [
    "no case",
    "leaf",
    "    of: steady travel\n    at: hold\n  - name: voltage",
    "    of: steady travel\n  - name: voltage",
    [
      '6:5 The requirement "travel" lacks "at": steady travel stands at an operating case, one of hold, full voltage, through resistor.',
    ],
  ],
  [
    "unknown case",
    "leaf",
    "        at: full voltage",
    "        at: full volage",
    [
      '21:13 Cannot read the requirement "current": "full volage" is not an operating case of the section drive. The nearest is "full voltage".',
    ],
  ],
  [
    "for missing",
    "leaf",
    "    for: 10 um\n",
    "",
    [
      '10:5 The requirement "voltage for the stroke" lacks "for": pad voltage for travel needs the travel, for example for: 10 um.',
    ],
  ],
  [
    "for not wanted",
    "leaf",
    "        of: supply current",
    "        of: supply current\n        for: 10 um",
    ['18:14 Cannot read the requirement "current": supply current takes no value under "for". Delete the line.'],
  ],
  [
    "for of another kind",
    "leaf",
    "for: 10 um",
    "for: 10 V",
    ["13:10 Pad voltage for travel needs the travel, a length, but a voltage is given here."],
  ],
  [
    "requirement twice",
    "leaf",
    "  - name: life",
    "  - name: travel",
    ['22:11 Two requirements are called "travel": give each its own name.'],
  ],
  [
    "between reversed",
    "leaf",
    "10 um within 1 um",
    "between 11 um and 9 um",
    ['7:11 Cannot use the requirement "travel": its upper limit must lie above its lower one.'],
  ],
  [
    "within below zero",
    "leaf",
    "10 um within 1 um",
    "10 um within -1 um",
    ['7:11 Cannot use the requirement "travel": the distance behind "within" must be above zero.'],
  ],
  [
    "empty limits",
    "leaf",
    "    of: no model",
    "    limits: []",
    ['22:5 "life" has an empty list of limits: write at least one, each with need and of.'],
  ],
  [
    "limits beside a limit",
    "leaf",
    "    limits:\n",
    "    need: at most 80 mA\n    of: supply current\n    limits:\n",
    ['14:5 "current" has both "limits" and a limit of its own: move that limit under "limits".'],
  ],
  [
    "no metric",
    "leaf",
    "    of: no model\n",
    "",
    ['22:5 "life" lacks "of": say which metric the limit is on, for example steady travel.'],
  ],
  [
    "no need",
    "leaf",
    "    need: at most 11.5 V\n",
    "",
    ['10:5 "voltage for the stroke" lacks "need": say the limit, for example at least 11 um.'],
  ],
  [
    "unknown device",
    "leaf",
    "    for: 10 um",
    "    for: 10 um\n    device: drvie",
    ['14:13 Cannot read the requirement "voltage for the stroke": "drvie" is not a device of this chip. The nearest is "drive".'],
  ],
  // cases
  [
    "two drives",
    "leaf",
    "hold: { pads: 10.20 V }",
    "hold: { pads: 10.20 V, current: 10 mA }",
    [
      '60:11 The case "hold" needs exactly one of pads, supply, current, uniform rise, uniform strain; pads and current are given.',
    ],
  ],
  [
    "no drive",
    "leaf",
    "through resistor: { supply: 12 V }",
    "through resistor: { gas: vacuum }",
    [
      '62:23 The case "through resistor" needs exactly one of pads, supply, current, uniform rise, uniform strain; none is given.',
    ],
  ],
  [
    "through without supply",
    "leaf",
    "hold: { pads: 10.20 V }",
    "hold: { pads: 10.20 V, through: 36 ohm }",
    ['60:11 The case "hold" has "through" but no "supply": a series resistor stands between a supply and the pads.'],
  ],
  [
    "supply above its limit",
    "leaf",
    "supply: 12 V",
    "supply: 13 V",
    [
      '62:23 The case "through resistor" asks the supply for 13 V, but drive.supply.limit is 12.6 V. Lower one or raise the other.',
    ],
  ],
  [
    "supply above its limit by a sum",
    "leaf",
    "supply: 12 V",
    "supply: 2 * 6.55 V",
    [
      '62:23 The case "through resistor" asks the supply for 13.1 V, but drive.supply.limit is 12.6 V. Lower one or raise the other.',
    ],
  ],
  [
    "no cases",
    "beam",
    "  cases:\n    hold: { pads: 5 V }",
    "  cases: {}",
    [
      '9:9 Cannot read the requirement "travel": "hold" is not an operating case of the section drive. There is none yet.',
      '13:9 Cannot read the requirement "current": "hold" is not an operating case of the section drive. There is none yet.',
      '17:9 Cannot read the requirement "hottest silicon": "hold" is not an operating case of the section drive. There is none yet.',
    ],
  ],
  // readings
  [
    "no date",
    "leaf",
    "microscope, 2026-11-20",
    "microscope",
    [
      '66:12 This reading has no date: end it with the day, year first, as in "measured 1.1 um ± 0.05 um, microscope, 2026-11-20".',
    ],
  ],
  [
    "of a stranger",
    "leaf",
    "of: undercut per edge",
    "of: undercut per egde",
    [
      '65:9 Cannot read this reading: nothing is called "undercut per egde"; the nearest is "undercut per edge". A metric of the vocabulary may stand here too.',
    ],
  ],
  [
    "assumed, not measured",
    "leaf",
    "found: measured 1.1 um",
    "found: assumed 1.1 um",
    [
      '66:12 A reading is measured, not assumed: write for example "of: undercut per edge" and "found: measured 1.1 um ± 0.05 um, microscope, 2026-11-20".',
    ],
  ],
  [
    "a metric without case",
    "leaf",
    "  - of: steady travel\n    at: hold\n",
    "  - of: steady travel\n",
    ['67:5 This reading lacks "at": steady travel stands at an operating case, one of hold, full voltage, through resistor.'],
  ],
  [
    "a metric at an unknown case",
    "leaf",
    "    at: hold\n    found",
    "    at: holt\n    found",
    ['68:9 Cannot read this reading: "holt" is not an operating case of the section drive. The nearest is "hold".'],
  ],
  [
    "found of another kind",
    "leaf",
    "measured 1.1 um ± 0.05 um",
    "measured 1.1 V",
    [
      "66:12 Cannot read process.undercut per edge: expected a length, found a voltage. An example is assumed 0.5 um ± 0.15 um, default of this etch.",
    ],
  ],
  [
    "found of another kind for a metric",
    "leaf",
    "measured 8.28 um ± 0.06 um",
    "measured 8.28 V",
    ["69:12 Steady travel is a length, but a voltage is given here."],
  ],
  [
    "found with a decimal comma",
    "leaf",
    "measured 1.1 um",
    "measured 1,1 um",
    ['66:21 Cannot read what was found: "1,1" can be read in two ways: write a decimal point, 1.1, and no mark for thousands.'],
  ],
  [
    "reading without found",
    "leaf",
    "\n    found: measured 1.1 um ± 0.05 um, microscope, 2026-11-20",
    "",
    [
      '65:5 This reading lacks "found": write for example "of: undercut per edge" and "found: measured 1.1 um ± 0.05 um, microscope, 2026-11-20".',
    ],
  ],
  [
    "a term whose weeks do not read",
    "beam",
    "parameters:",
    "term: { begins: 2026-09-07, weeks: 14, stages: { fab: weeks 12 to 20 }, done: [fab, sleep] }\nparameters:",
    [
      '30:85 Cannot read term.done.2: "sleep" is not known here. Allowed are brief, size, predict, mask, drive, fab, inspect, bench, explain.',
    ],
  ],
  // names that a program must not take for its own
  [
    "__proto__ as a section",
    "beam",
    "parameters:",
    "__proto__: { polluted: yes }\nparameters:",
    [
      '30:1 "__proto__" is not known at the top of a chip text. Allowed are chip, version, note, brief, surroundings, materials, process, parameters, devices, die, drive, readings, term.',
    ],
  ],
  [
    "__proto__ as a parameter",
    "beam",
    "  leg width: 8 um",
    "  leg width: 8 um\n  __proto__: 9 um",
    [
      '32:3 "__proto__" cannot be the name of a parameter: a name begins with a letter and holds at most 60 letters, digits, blanks, hyphens and underscores, for example leg width: 6 um.',
    ],
  ],
  [
    "constructor as a key",
    "beam",
    "    trench: 24 um",
    "    constructor: 24 um",
    [
      '40:5 "constructor" is not known in devices.pusher. Allowed are is, legs, shuttle, load, anchors, leads, pads, heat loss, neighbours, roots, trench.',
    ],
  ],
];
