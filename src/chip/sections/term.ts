/** Section "term": the weeks that the team has, what it means to do when, and the dates that cannot move. */
import { choice, type Fields, list, mapOf, record, text, whole } from "#base";

export const stageNames = ["brief", "size", "predict", "mask", "drive", "fab", "inspect", "bench", "explain"] as const;
export type StageName = (typeof stageNames)[number];

const stage = (example: string, about: string) => ({ shape: text(example), about, optional: true as const });

const stageFields = {
  brief: stage("week 1", "Weeks in which what must hold is written."),
  size: stage("weeks 1 to 3", "Weeks in which sizes are found."),
  predict: stage("weeks 2 to 4", "Weeks in which the device is predicted."),
  mask: stage("weeks 3 to 5", "Weeks in which the plates are drawn."),
  drive: stage("weeks 5 to 7", "Weeks in which the controller is made."),
  fab: stage("weeks 6 to 9", "Weeks in the clean room."),
  inspect: stage("weeks 8 to 10", "Weeks at the microscope."),
  bench: stage("weeks 10 to 12", "Weeks at the probe station."),
  explain: stage("weeks 11 to 14", "Weeks in which data are explained and written up."),
} as const satisfies Fields;

export const termFields = {
  begins: { shape: text("2026-09-07"), about: "First day of week 1." },
  weeks: { shape: whole({ least: 1, most: 60, example: "14" }), about: "Length of the term." },
  stages: {
    shape: record(stageFields),
    about: "When each stage is worked on; one that is left out has its usual weeks, stretched to the term.",
    optional: true,
  },
  flags: {
    shape: mapOf(text("week 5"), { names: "a flag", example: "plates ordered: week 5" }),
    about: "Dates that cannot move: the end of a week, or a day.",
    optional: true,
  },
  done: { shape: list(choice(...stageNames)), about: "Stages that are finished.", optional: true },
} as const satisfies Fields;
