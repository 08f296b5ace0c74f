/** A binary heap of whole numbers, least key first; grows as needed. */
export class MinHeap {
  #keys = new Float64Array(1024);
  #items = new Int32Array(1024);
  #size = 0;

  get size(): number {
    return this.#size;
  }

  push(key: number, item: number): void {
    if (this.#size === this.#items.length) this.#grow();
    const keys = this.#keys;
    const items = this.#items;
    let at = this.#size++;
    while (at > 0) {
      const parent = (at - 1) >> 1;
      if ((keys[parent] ?? 0) <= key) break;
      keys[at] = keys[parent] ?? 0;
      items[at] = items[parent] ?? 0;
      at = parent;
    }
    keys[at] = key;
    items[at] = item;
  }

  /** Takes out the item with the least key; -1 from an empty heap. */
  pop(): number {
    if (this.#size === 0) return -1;
    const keys = this.#keys;
    const items = this.#items;
    const least = items[0] ?? -1;
    const size = --this.#size;
    const key = keys[size] ?? 0;
    const item = items[size] ?? 0;
    let at = 0;
    for (;;) {
      let child = 2 * at + 1;
      if (child >= size) break;
      if (child + 1 < size && (keys[child + 1] ?? 0) < (keys[child] ?? 0)) child++;
      if ((keys[child] ?? 0) >= key) break;
      keys[at] = keys[child] ?? 0;
      items[at] = items[child] ?? 0;
      at = child;
    }
    keys[at] = key;
    items[at] = item;
    return least;
  }

  #grow(): void {
    const keys = new Float64Array(this.#keys.length * 2);
    keys.set(this.#keys);
    this.#keys = keys;
    const items = new Int32Array(this.#items.length * 2);
    items.set(this.#items);
    this.#items = items;
  }
}
