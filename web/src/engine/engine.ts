import type { Answer, Asked } from './protocol';

export type Question = Pick<Asked, 'args'> & Partial<Pick<Asked, 'files' | 'wanted'>>;

/** One worker; questions are answered in the order asked. */
export class Engine {
  #worker: Worker;
  #next = 1;
  #waiting = new Map<number, (answer: Answer) => void>();
  #base: string;

  constructor(base: string = new URL('./', document.baseURI).href) {
    this.#base = base;
    this.#worker = this.#start();
  }

  #start(): Worker {
    const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
    worker.addEventListener('message', (event: MessageEvent<Answer>) => {
      this.#waiting.get(event.data.id)?.(event.data);
      this.#waiting.delete(event.data.id);
    });
    return worker;
  }

  ask(question: Question): Promise<Answer> {
    const id = this.#next++;
    const asked: Asked = { id, base: this.#base, files: {}, wanted: [], ...question };
    return new Promise((resolve) => {
      this.#waiting.set(id, resolve);
      this.#worker.postMessage(asked);
    });
  }

  /** Gives up whatever is under way; those who asked get code -1. */
  cancel(): void {
    this.#worker.terminate();
    const waiting = [...this.#waiting];
    this.#waiting.clear();
    this.#worker = this.#start();
    for (const [id, resolve] of waiting)
      resolve({ id, code: -1, out: '', err: '', written: {}, milliseconds: 0 });
  }
}

/** Asks again only when the last answer is there, and then only the latest question: a slider asks often. */
export class LatestOnly {
  #busy = false;
  #next: Question | undefined;
  constructor(
    private engine: Engine,
    private answered: (answer: Answer) => void,
  ) {}

  async ask(question: Question): Promise<void> {
    this.#next = question;
    if (this.#busy) return;
    this.#busy = true;
    while (this.#next) {
      const now: Question = this.#next;
      this.#next = undefined;
      const answer = await this.engine.ask(now);
      if (answer.code !== -1) this.answered(answer);
    }
    this.#busy = false;
  }
}
