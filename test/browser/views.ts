/** Every view of the page by its name in the address. */
export const views = [
  "brief",
  "size",
  "predict",
  "mask",
  "drive",
  "fab",
  "inspect",
  "bench",
  "explain",
  "text",
  "folder",
] as const;
