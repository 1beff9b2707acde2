/** How far a study is: between two steps whoever drains it can breathe, tell of it, or stop. */
export interface StudyStep {
  readonly what: string;
  readonly done: number;
  readonly total: number;
}
