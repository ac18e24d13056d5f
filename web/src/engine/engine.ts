import type { Answer, Asked, Begin } from './protocol';

export type Question = Pick<Asked, 'args'> & Partial<Pick<Asked, 'files' | 'wanted'>>;

/** Compiled once for all workers: a second one, or one that follows a cancelled one, starts at the speed that the first has reached. */
const compilations = new Map<string, Promise<WebAssembly.Module>>();

async function compile(base: string): Promise<WebAssembly.Module> {
  const answer = await fetch(`${base}glidewright.wasm`);
  if (!answer.ok) throw new Error(`glidewright.wasm cannot be had: ${answer.status} ${answer.statusText}`);
  // A plain server of files may not know what it is.
  if (answer.headers.get('content-type')?.startsWith('application/wasm')) return WebAssembly.compileStreaming(answer);
  return WebAssembly.compile(await answer.arrayBuffer());
}
function compiledAt(base: string): Promise<WebAssembly.Module> {
  const begun = compilations.get(base) ?? compile(base);
  compilations.set(base, begun);
  begun.catch(() => compilations.delete(base)); // the next question tries again
  return begun;
}

const NOTHING = { out: '', err: '', written: {}, milliseconds: 0 };

/** One worker; questions are answered in the order asked. */
export class Engine {
  #worker: Worker | undefined; // none until it is asked
  #next = 1;
  #waiting = new Map<number, (answer: Answer) => void>();
  #base: string;

  constructor(base: string = new URL('./', document.baseURI).href) {
    this.#base = base;
  }

  #start(): Worker {
    const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
    worker.addEventListener('message', (event: MessageEvent<Answer>) => {
      this.#waiting.get(event.data.id)?.(event.data);
      this.#waiting.delete(event.data.id);
    });
    worker.postMessage({ begin: this.#base } satisfies Begin);
    return worker;
  }

  ask(question: Question): Promise<Answer> {
    const id = this.#next++;
    this.#worker ??= this.#start();
    const begun = compiledAt(this.#base);
    return new Promise((resolve) => {
      this.#waiting.set(id, resolve);
      begun.then(
        (compiled) => {
          if (!this.#waiting.has(id)) return; // given up in the meantime
          (this.#worker ??= this.#start()).postMessage({ id, base: this.#base, compiled, files: {}, wanted: [], ...question } satisfies Asked);
        },
        (failed: Error) => {
          this.#waiting.delete(id);
          resolve({ id, code: 3, ...NOTHING, err: `the engine cannot be started: ${failed.message}` });
        },
      );
    });
  }

  /** Gives up whatever is under way; those who asked get code -1. */
  cancel(): void {
    this.#worker?.terminate();
    this.#worker = undefined;
    const waiting = [...this.#waiting];
    this.#waiting.clear();
    for (const [id, resolve] of waiting) resolve({ id, code: -1, ...NOTHING });
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
