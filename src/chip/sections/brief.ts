/**
 * Section "brief": what must hold. Each requirement has one limit, or several under "limits" that must all hold.
 * How a limit is worded: "at least 11 um", "at most 80 mA", "10 um within 1 um", "between 9 um and 11 um".
 */
import { type Fields, list, record, text } from "#base";

const limitFields = {
  need: {
    shape: text("at most 80 mA"),
    about: "The limit: at least, at most, a value within a distance, or between two values.",
  },
  of: { shape: text("steady travel"), about: 'The metric that the limit is on; "no model" for what only a test can prove.' },
  at: { shape: text("hold"), about: "The operating case of the section drive.", optional: true },
  for: {
    shape: text("10 um"),
    about: 'A value that the metric needs, such as the travel in "pad voltage for travel".',
    optional: true,
  },
  where: {
    shape: text("tip"),
    about: "Name of the point or part that the metric is about, where it is about one.",
    optional: true,
  },
  device: { shape: text("drive"), about: "Which device; needed only where there are several.", optional: true },
} as const satisfies Fields;

export const requirementFields = {
  name: { shape: text("travel"), about: "What the team calls it." },
  need: { ...limitFields.need, optional: true },
  of: { ...limitFields.of, optional: true },
  at: limitFields.at,
  for: limitFields.for,
  where: limitFields.where,
  device: limitFields.device,
  limits: {
    shape: list(record(limitFields)),
    about: "Several limits that must all hold, in place of a single one.",
    optional: true,
  },
  why: { shape: text("the open slits must stand over the fixed slits"), about: "The reason.", optional: true },
  proof: { shape: text("bench run of 2e5 exposures"), about: "How it will be proven, where no model can.", optional: true },
} as const satisfies Fields;

export const briefShape = list(record(requirementFields));
