// Small things kept on this device between visits.

const PREFIX = 'glidewright.';

function read<T>(from: () => Storage, name: string): Partial<T> | undefined {
  try {
    const value: unknown = JSON.parse(from().getItem(PREFIX + name) ?? 'null');
    return value !== null && typeof value === 'object' && !Array.isArray(value) ? (value as Partial<T>) : undefined;
  } catch {
    return undefined;
  }
}
function write(to: () => Storage, name: string, value: unknown): boolean {
  try {
    to().setItem(PREFIX + name, JSON.stringify(value));
    return true;
  } catch {
    return false; // private window, or full: the page still works, and says so
  }
}

export function kept<T>(name: string, otherwise: T): T {
  return { ...otherwise, ...read<T>(() => localStorage, name) };
}

export function keep(name: string, value: unknown): boolean {
  return write(() => localStorage, name, value);
}

/** What this tab was at, else what any tab was at last: a reload brings back this tab's own work and not another's. */
export function draft<T>(name: string, otherwise: T): T {
  return { ...otherwise, ...(read<T>(() => sessionStorage, name) ?? read<T>(() => localStorage, name)) };
}

export function keepDraft(name: string, value: unknown): boolean {
  const here = write(() => sessionStorage, name, value);
  return keep(name, value) && here;
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
