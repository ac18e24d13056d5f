// The units that one user reads: kept on this device. Heights in feet and speeds in knots stay, as the trade has them.

import { keep, kept } from '../parts/kept';

export interface Units {
  altimeter: 'hpa' | 'inhg';
  length: 'ft' | 'm';
}

export const units = $state<Units>(kept('units', { altimeter: 'hpa', length: 'ft' }));

export function keepUnits(): void {
  keep('units', $state.snapshot(units));
}
