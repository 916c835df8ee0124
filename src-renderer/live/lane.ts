/** Work in single file: each piece begins when the one before it is done. */
export class Lane {
  #last: Promise<void> = Promise.resolve();

  readonly run = (work: () => Promise<void>): void => {
    this.#last = this.#last.then(work);
  };
}
