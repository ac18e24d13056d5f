// Small things kept on this device between visits; two tabs see each other's.

const PREFIX = 'glidewright.';

export function kept<T>(name: string, otherwise: T): T {
  try {
    const text = localStorage.getItem(PREFIX + name);
    return text === null ? otherwise : { ...otherwise, ...(JSON.parse(text) as T) };
  } catch {
    return otherwise;
  }
}

export function keep(name: string, value: unknown): boolean {
  try {
    localStorage.setItem(PREFIX + name, JSON.stringify(value));
    return true;
  } catch {
    return false; // private window, or full: the page still works, and says so
  }
}

/** Values with undo: every change that lasts is remembered, the newest last. */
export class History<T> {
  #past: string[] = [];
  constructor(private most = 100) {}
  remember(value: T): void {
    const text = JSON.stringify(value);
    if (this.#past.at(-1) !== text) this.#past.push(text);
    if (this.#past.length > this.most) this.#past.shift();
  }
  /** The value before the present one, or none. */
  undo(): T | undefined {
    if (this.#past.length < 2) return undefined;
    this.#past.pop();
    return JSON.parse(this.#past.at(-1) as string) as T;
  }
  get canUndo(): boolean {
    return this.#past.length > 1;
  }
}
