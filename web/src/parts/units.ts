// Display units. What was typed goes to the engine as it was typed, in the unit in which it was typed.

import { whole } from './words';

const METRES_PER_FOOT = 0.3048; // exact
const HPA_PER_INHG = 33.86389; // as the engine has it

/** A runway's length: "4,100 ft", and in metres where these are read. */
export function lengthWords(ft: number, unit: 'ft' | 'm'): string {
  return unit === 'm' ? `${whole(ft * METRES_PER_FOOT)} m (${whole(ft)} ft)` : `${whole(ft)} ft`;
}

/** A length typed in metres, for the file of a runway, which has feet; to a tenth of a foot. */
export function feetOf(metres: number): number {
  return Math.round((10 * metres) / METRES_PER_FOOT) / 10;
}
export function metresOf(ft: number): number {
  return Math.round(ft * METRES_PER_FOOT * 10) / 10;
}

/** An altimeter setting as somebody sees it who reads the other unit; as typed where it is no number. */
export function altimeterShown(text: string, typedIn: 'hpa' | 'inhg', read: 'hpa' | 'inhg'): string {
  const value = Number(text.trim().replace(',', '.'));
  if (typedIn === read || !text.trim() || !Number.isFinite(value)) return text;
  return read === 'inhg' ? (value / HPA_PER_INHG).toFixed(2) : (value * HPA_PER_INHG).toFixed(1);
}
