// The user's own airplanes and runways on this device: each is one JSON text under a name of its own, so that tabs which
// change different ones never meet, and tabs which change the same one see each other's last word.

import { forget, isKept, keep, keptAll } from '../parts/kept';

export interface Own {
  key: string;
  text: string;
}
interface Change {
  key: string;
  before: string | undefined; // none: it was not there
}

/** Rises with time, so that the list stands in the order in which things were made. */
const newKey = () => Date.now().toString(36) + Math.random().toString(36).slice(2, 5).padEnd(3, '0');

export class Shelf {
  all = $state<Own[]>([]);
  /** False when the browser keeps nothing: then the things are gone with the page. */
  saved = $state(true);
  #past = $state<Change[]>([]);
  #beginning: string;
  #notKept = new Map<string, string>(); // the browser took it not: it lives as long as this page

  constructor(beginning: string) {
    this.#beginning = beginning;
    this.#read();
    if (typeof window === 'undefined') return;
    window.addEventListener('storage', (event: StorageEvent) => {
      if (isKept(event.key, beginning)) this.#read();
    });
  }

  #read(): void {
    const kept = [...keptAll<Own>(this.#beginning)].flatMap(([key, one]) => (typeof one.text === 'string' ? [{ key, text: one.text }] : []));
    const here = [...this.#notKept].map(([key, text]) => ({ key, text }));
    this.all = [...kept.filter((one) => !this.#notKept.has(one.key)), ...here].sort((a, b) => (a.key < b.key ? -1 : 1));
  }
  text(key: string): string | undefined {
    return this.all.find((one) => one.key === key)?.text;
  }
  /** Keeps it at once, also while a hand still types; `changed` tells when the hand rests. */
  put(key: string, text: string): void {
    const others = this.all.filter((one) => one.key !== key);
    this.all = [...others, { key, text }].sort((a, b) => (a.key < b.key ? -1 : 1));
    this.saved = keep(this.#beginning + key, { text });
    if (this.saved) this.#notKept.delete(key);
    else this.#notKept.set(key, text);
  }
  /** What stood there before a change that lasts, for undo. */
  changed(key: string, before: string | undefined): void {
    if (this.text(key) === before) return;
    this.#past.push({ key, before });
    if (this.#past.length > 100) this.#past.shift();
  }
  add(text: string): string {
    const key = newKey();
    this.put(key, text);
    this.changed(key, undefined);
    return key;
  }
  remove(key: string): void {
    const before = this.text(key);
    this.#takeAway(key);
    this.changed(key, before);
  }
  #takeAway(key: string): void {
    this.all = this.all.filter((one) => one.key !== key);
    this.#notKept.delete(key);
    forget(this.#beginning + key);
  }
  get canUndo(): boolean {
    return this.#past.length > 0;
  }
  /** Takes the last change of this tab back and says which thing it was. */
  undo(): string | undefined {
    const last = this.#past.pop();
    if (!last) return undefined;
    if (last.before === undefined) this.#takeAway(last.key);
    else this.put(last.key, last.before);
    return last.key;
  }
}
