/**
 * Section "readings": dated entries beside the targets. They move the as-built side only and never overwrite an intention.
 * An entry either states one found value, or names a file of instrument data that is kept for later evaluation.
 */
import { type Fields, list, record, text } from "#base";

export const readingFields = {
  of: {
    shape: text("undercut per edge"),
    about: "What was found: a quantity of this text by its name, or a metric.",
    optional: true,
  },
  found: {
    shape: text("measured 1.1 um ± 0.05 um, microscope, die K11, 2026-11-20"),
    about: "The value with doubt, instrument, die and date.",
    optional: true,
  },
  at: { shape: text("hold"), about: "For a metric: the operating case at which it was found.", optional: true },
  device: { shape: text("drive"), about: "For a metric: which device, where there are several.", optional: true },
  file: { shape: text("readings/leafgate-iv-travel.csv"), about: "A file of instrument data in this folder.", optional: true },
  note: { shape: text("die K11, 30 s hold per point"), about: "A remark.", optional: true },
} as const satisfies Fields;

export const readingsShape = list(record(readingFields));
