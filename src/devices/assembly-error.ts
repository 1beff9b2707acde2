/** Parts that do not fit together. `message` is a clause without a full stop, to be put into a sentence with its place. */
export class AssemblyError extends Error {
  override readonly name = "AssemblyError";
}
