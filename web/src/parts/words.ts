// Numbers as an instructor says them (the same rules as the command line's).

const MINUS = '−';

export function whole(value: number): string {
  const rounded = Math.round(value);
  const text = Math.abs(rounded).toLocaleString('en-US');
  return rounded < 0 ? MINUS + text : text;
}

/** To the nearest 10 ft. */
export function feet(value: number): string {
  return whole(Math.round(value / 10) * 10);
}

export function signedFeet(value: number): string {
  const text = feet(value);
  return text === '0' || text.startsWith(MINUS) ? text : `+${text}`;
}

/** "11 in 20"; never all or none where it is not certain. */
export function in20(probability: number): string {
  const twentieths = Math.round(20 * probability);
  if (twentieths >= 20) return probability >= 1 ? '20 in 20' : 'more than 19 in 20';
  if (twentieths <= 0) return probability <= 0 ? '0 in 20' : 'less than 1 in 20';
  return `${twentieths} in 20`;
}

export function range20(low: number, high: number): string {
  return `${Math.round(20 * low)} to ${Math.round(20 * high)}`;
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
