// The words of a drill's answers, and the keys that give them.

import type { Energy, KeptAnswer, Sureness } from '../engine/drill';

export const ENERGIES: { value: Energy; name: string; sign: string; key: string }[] = [
  { value: 'low', name: 'Low', sign: '▽', key: 'l' },
  { value: 'on', name: 'On', sign: '–', key: 'o' },
  { value: 'high', name: 'High', sign: '▲', key: 'h' },
];
export const SURENESS: { value: Sureness; name: string; key: string }[] = [
  { value: 'guess', name: 'a guess', key: 'g' },
  { value: 'fairly', name: 'fairly', key: 'f' },
  { value: 'sure', name: 'sure', key: 's' },
];

export const energyName = (energy: Energy): string => ENERGIES.find((one) => one.value === energy)?.name ?? '';

/** How far the mark was off; none where none was made. */
export function markOffFt(answer: Pick<KeptAnswer, 'mark_ahead_ft' | 'mark_right_ft'> | undefined): number | undefined {
  return answer?.mark_ahead_ft != null && answer.mark_right_ft != null ? Math.hypot(answer.mark_ahead_ft, answer.mark_right_ft) : undefined;
}

/** A key that belongs to a field or to the browser. */
export function typing(event: KeyboardEvent): boolean {
  const at = event.target;
  return at instanceof HTMLInputElement || at instanceof HTMLTextAreaElement || at instanceof HTMLSelectElement || event.ctrlKey || event.metaKey || event.altKey;
}
