/** Two long chip-like texts of different lengths that share no line, so that any mixture of them is seen. */
export const longTexts: readonly [string, string] = [
  Array.from({ length: 20_000 }, (_, i) => `first_${i}: ${i} um`).join("\n"),
  Array.from({ length: 14_000 }, (_, i) => `second_${i}: ${i} deg # longer`).join("\n"),
];
