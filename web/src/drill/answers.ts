// Answers of all drills on this device. Tabs add to them and never write over each other's.

import type { KeptAnswer } from '../engine/drill';
import { keep, kept } from '../parts/kept';

/** All of both, each picture of a drill once: who answered first counts. */
export function joined(before: KeptAnswer[], more: KeptAnswer[]): KeptAnswer[] {
  const all = new Map<string, KeptAnswer>();
  for (const one of [...before, ...more]) {
    const picture = `${one.seed} ${one.number} ${one.setting}`;
    const other = all.get(picture);
    if (!other || one.at < other.at) all.set(picture, one);
  }
  return [...all.values()].sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.number - b.number));
}

const NAME = 'drill-answers';
const LOCK = 'glidewright.drill.';

export const answersKept = (): KeptAnswer[] => kept<{ answers: KeptAnswer[] }>(NAME, { answers: [] }).answers;

/** Adds them to what all tabs have kept, read anew. False where the browser keeps nothing. */
export function keepAnswers(more: KeptAnswer[]): boolean {
  return keep(NAME, { answers: joined(answersKept(), more) });
}

/** Whether this tab may go on with the drill of a seed: not while another one is at it. Held until the tab closes, and
    asked for a moment, as a page that is loaded anew still has it. Where the browser has no locks, it may. */
export function mine(seed: number): Promise<boolean> {
  if (!navigator.locks) return Promise.resolve(true);
  return new Promise((resolve) => {
    const held = () => {
      resolve(true);
      return new Promise<void>(() => undefined);
    };
    navigator.locks.request(`${LOCK}${seed}`, { signal: AbortSignal.timeout(500) }, held).catch(() => resolve(false));
  });
}
