/** Which of many things hang together (disjoint sets). */
export class Groups {
  private readonly parents: Int32Array;

  constructor(count: number) {
    this.parents = Int32Array.from({ length: count }, (_, i) => i);
  }

  rootOf(index: number): number {
    let at = index;
    while (this.parents[at] !== at) {
      this.parents[at] = this.parents[this.parents[at]!]!;
      at = this.parents[at]!;
    }
    return at;
  }

  join(a: number, b: number): void {
    this.parents[this.rootOf(a)] = this.rootOf(b);
  }
}
