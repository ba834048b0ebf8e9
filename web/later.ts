/** One thing that is to be done later: the next one takes its place. */
export class Later {
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** @param wait ms */
  after(wait: number, work: () => void): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(work, wait);
  }

  drop(): void {
    clearTimeout(this.#timer);
  }
}
