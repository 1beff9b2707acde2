/** Whether the field of the device carries labelled lines: always in Amber, whose map has but one hue, and in print; else as one likes. */
import { computed, signal } from "@preact/signals";
import { isPrinting, mode } from "./mode.ts";

export const wantsIsolines = signal(false);
/** True where they cannot be turned off. */
export const needsIsolines = computed(() => mode.value === "amber" || isPrinting.value);
export const showsIsolines = computed(() => needsIsolines.value || wantsIsolines.value);
