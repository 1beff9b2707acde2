/** Every view of the page by its name in the address: the stages of the term, the text and the folder. */
import { stageNames } from "../../src/chip/sections/term.ts";

export const views = [...stageNames, "text", "folder"] as const;
