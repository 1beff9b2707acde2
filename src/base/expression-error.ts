/** Arithmetic that cannot be read or evaluated. `message` is a clause without a full stop; `at` the offset in its text. */
export class ExpressionError extends SyntaxError {
  override readonly name = "ExpressionError";
  readonly at: number;

  constructor(message: string, at: number) {
    super(message);
    this.at = at;
  }
}
