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

/** All that is kept under names which begin so, by the rest of the name. */
export function keptAll<T>(beginning: string): Map<string, Partial<T>> {
  const all = new Map<string, Partial<T>>();
  try {
    for (const name of Object.keys(localStorage)) {
      if (!name.startsWith(PREFIX + beginning)) continue;
      const value = read<T>(() => localStorage, name.slice(PREFIX.length));
      if (value) all.set(name.slice(PREFIX.length + beginning.length), value);
    }
  } catch {
    // A private window: nothing is kept.
  }
  return all;
}

export function forget(name: string): void {
  try {
    localStorage.removeItem(PREFIX + name);
  } catch {
    // Nothing was kept.
  }
}

/** Whether a change that another tab made is to something whose name begins so. */
export function isKept(storageKey: string | null, beginning: string): boolean {
  return storageKey === null || storageKey.startsWith(PREFIX + beginning);
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
