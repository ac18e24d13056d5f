// The planned approach as the drawings need it: the band's places, then straight to the planned touchdown.

import type { Brief, Edges } from '../engine/brief';
import { whole } from '../parts/words';

export interface PathPlace {
  timeS: number;
  alongFt: number;
  outFt: number; // from the centreline to the pattern's side
  heightFt: number;
  toGoFt: number;
  edges?: Edges; // nine in ten; none below the gate
}

/** What turns right of the centreline into towards the pattern. */
const sideOf = (brief: Brief) => (brief.pattern.traffic === 'left' ? -1 : 1);

export function obstaclePlaces(brief: Brief): { alongFt: number; outFt: number; words: string }[] {
  return brief.runway.obstacles.map((one) => ({
    alongFt: one.along_ft,
    outFt: sideOf(brief) * one.right_of_centreline_ft,
    words: `${one.what || 'obstacle'} ${whole(one.top_above_threshold_ft)} ft`,
  }));
}

export function plannedPath(brief: Brief): PathPlace[] {
  if (!brief.band || brief.planned_touchdown_ft === null) return [];
  const side = sideOf(brief);
  const path: PathPlace[] = brief.band.places.map((place) => ({
    timeS: place.time_s,
    alongFt: place.along_ft,
    outFt: side * place.cross_ft,
    heightFt: place.height_ft,
    toGoFt: 0,
    edges: place.nine_in_ten,
  }));
  path.push({ timeS: Number.NaN, alongFt: brief.planned_touchdown_ft, outFt: 0, heightFt: 0, toGoFt: 0 });
  for (let i = path.length - 1; i > 0; i--) {
    const here = path[i - 1] as PathPlace;
    const next = path[i] as PathPlace;
    here.toGoFt = next.toGoFt + Math.hypot(next.alongFt - here.alongFt, next.outFt - here.outFt);
  }
  return path;
}

/** The place at a height passed on the way down, between the places known. */
export function placeAtHeight(path: PathPlace[], heightFt: number): PathPlace | undefined {
  const after = path.findIndex((place) => place.heightFt <= heightFt);
  const below = path[after];
  const above = path[after - 1];
  if (!below || !above) return below;
  const share = (above.heightFt - heightFt) / Math.max(1e-6, above.heightFt - below.heightFt);
  const mix = (key: 'alongFt' | 'outFt' | 'toGoFt' | 'timeS') => above[key] + share * (below[key] - above[key]);
  return { timeS: mix('timeS'), alongFt: mix('alongFt'), outFt: mix('outFt'), toGoFt: mix('toGoFt'), heightFt };
}

export function placeAtTime(path: PathPlace[], timeS: number): PathPlace | undefined {
  return path.find((place) => place.timeS >= timeS);
}

export interface Stretch {
  points: { x: number; low: number; high: number }[];
}

/** The stretches of the path along which a layer of the band is open, heights cut at `topFt`. */
export function openStretches(path: PathPlace[], low: keyof Edges, high: keyof Edges, topFt: number): Stretch[] {
  const stretches: Stretch[] = [];
  let open: Stretch | undefined;
  for (const place of path) {
    const bottom = place.edges ? Math.max(place.edges[low], place.edges.lowest_ft) : 1;
    const top = place.edges ? Math.min(place.edges[high], topFt) : 0;
    if (top <= bottom) {
      open = undefined;
      continue;
    }
    if (!open) {
      open = { points: [] };
      stretches.push(open);
    }
    open.points.push({ x: place.toGoFt, low: bottom, high: top });
  }
  return stretches.filter((stretch) => stretch.points.length > 1);
}
