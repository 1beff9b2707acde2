/** Arithmetic without a result. `message` is a clause without a full stop, to be put into a sentence with its place. */
export class ArithmeticError extends Error {
  override readonly name = "ArithmeticError";
}
