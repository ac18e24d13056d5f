// A sketch from above, landing to the right, the pattern's side on top.

export interface Point {
  x: number;
  y: number;
}
export interface OnGround {
  along_ft: number;
  cross_ft: number;
}
export interface Ground {
  x: (alongFt: number) => number;
  y: (crossFt: number) => number;
  /** The place under a point of the picture. */
  place: (point: Point) => { alongFt: number; crossFt: number };
  side: number;
  width: number;
  height: number;
}

/** As large as it fits, with all places in it, and room beyond them on downwind. */
export function groundOver(everything: OnGround[], traffic: 'left' | 'right', width: number, mostHeight: number, roomFt = 500): Ground {
  const side = traffic === 'left' ? -1 : 1;
  const low = Math.min(...everything.map((one) => one.along_ft)) - roomFt;
  const high = Math.min(Math.max(1200, ...everything.map((one) => one.along_ft + 200)), 2500);
  const out = Math.max(...everything.map((one) => side * one.cross_ft)) + 250;
  const scale = Math.min((width - 16) / (high - low), (mostHeight - 44) / (out + 350));
  const height = (out + 350) * scale + 44;
  return {
    x: (alongFt) => 8 + (alongFt - low) * scale,
    y: (crossFt) => 22 + (out - side * crossFt) * scale,
    place: ({ x, y }) => ({ alongFt: (x - 8) / scale + low, crossFt: side * (out - (y - 22) / scale) }),
    side,
    width,
    height,
  };
}
