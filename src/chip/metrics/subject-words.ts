/** What is asked about, in words: the metric, its point or part, its value and its case. */
export function subjectWords(
  subject: {
    readonly metric: { readonly word: string };
    readonly where: string | undefined;
    readonly caseName: string | undefined;
  },
  argument?: string,
): string {
  const { metric, where, caseName } = subject;
  return [
    metric.word,
    ...(where === undefined ? [] : [`of ${where}`]),
    ...(argument === undefined ? [] : [`for ${argument}`]),
    ...(caseName === undefined ? [] : [`at ${caseName}`]),
  ].join(" ");
}
