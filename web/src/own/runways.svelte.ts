// The user's own runways: files of the command line's own form (glidewright.runway/1).

import { Shelf } from './shelf.svelte';

export const runways = new Shelf('runway.');

/** "Harrow Fen 24", as lists show it and as it can be typed. */
export function runwayName(text: string): string {
  try {
    const { airfield, designator } = JSON.parse(text) as { airfield?: unknown; designator?: unknown };
    return [airfield, designator].filter((one) => typeof one === 'string' && one.trim()).join(' ') || 'without a name';
  } catch {
    return 'without a name';
  }
}

/** The own runway that is meant by its name, large or small letters. */
export function runwayCalled(name: string): { key: string; text: string } | undefined {
  const wanted = name.trim().toLowerCase();
  return wanted ? runways.all.find((one) => runwayName(one.text).toLowerCase() === wanted) : undefined;
}
