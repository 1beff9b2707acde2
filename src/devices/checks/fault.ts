/** Something about a device that makes no sense as silicon, or that no model can be made of. */
export interface Fault {
  /** Part that it is told at; undefined where it is the device as a whole. */
  readonly part: string | undefined;
  /** A sentence without its full stop, names in quotes. */
  readonly message: string;
}
