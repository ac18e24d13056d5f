// The user's own airplanes: profiles in the command line's own form.

import { Shelf } from './shelf.svelte';

export const airplanes = new Shelf('airplane.');

/** The name in a profile, or in a runway's file; what a list shows. */
export function nameIn(text: string, otherwise: string): string {
  try {
    const { name } = JSON.parse(text) as { name?: unknown };
    return typeof name === 'string' && name.trim() ? name : otherwise;
  } catch {
    return otherwise;
  }
}

const OWN = 'own:';

/** How a list of airplanes names one of the user's own. */
export const ownChoice = (key: string) => OWN + key;

/** The key in such a name; none for an airplane that came with the program. */
export function ownKeyIn(choice: string): string | undefined {
  return choice.startsWith(OWN) ? choice.slice(OWN.length) : undefined;
}
