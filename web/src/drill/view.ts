// Where things are in a drill's pictures: from above, from the seat, and height over the way to go.

import type { Frozen, Place, Under } from '../engine/drill';
import { groundOver, type Ground, type Point } from '../parts/ground';

export function groundOf(drill: Under, width: number, mostHeight: number): Ground {
  const everything = [...drill.planned, ...drill.situations.flatMap((one) => [...one.flown, ...one.answer.to_come])];
  return groundOver(everything, drill.traffic, width, mostHeight);
}

/** A place on the ground as the eye in the cockpit sees it; none behind it. The eye looks towards the point. */
export interface Seat {
  of: (alongFt: number, crossFt: number) => Point | undefined;
  horizon: [Point, Point];
}

export function seatOf(trueBearingDeg: number, now: Frozen['now'], width: number, height: number): Seat {
  // The landing direction is along; cross is to its right.
  const away = Math.hypot(now.along_ft, now.cross_ft);
  const forward = { along: -now.along_ft / away, cross: -now.cross_ft / away };
  const right = { along: -forward.cross, cross: forward.along };
  const focal = width * 0.9;
  const middle = { x: width / 2, y: height * 0.2 };
  // Seen across the nose a bank tilts the horizon; seen ahead it does so fully.
  const heading = ((now.heading_true_deg - trueBearingDeg) * Math.PI) / 180;
  const ahead = Math.cos(heading) * forward.along + Math.sin(heading) * forward.cross;
  const tilt = (-now.bank_deg * ahead * Math.PI) / 180;
  const turned = (x: number, y: number): Point => ({
    x: middle.x + x * Math.cos(tilt) - y * Math.sin(tilt),
    y: middle.y + x * Math.sin(tilt) + y * Math.cos(tilt),
  });
  return {
    of: (alongFt, crossFt) => {
      const along = alongFt - now.along_ft;
      const cross = crossFt - now.cross_ft;
      const depth = along * forward.along + cross * forward.cross;
      if (depth < 60) return undefined;
      const aside = along * right.along + cross * right.cross;
      return turned((focal * aside) / depth, (focal * now.height_ft) / depth);
    },
    horizon: [turned(-width, 0), turned(width, 0)],
  };
}

/** Distance still to go over the ground from each place to a place on the runway; the last place is on its line. */
export function toGo(way: Place[], endAlongFt: number): { toGoFt: number; heightFt: number }[] {
  const last = way.at(-1);
  let left = last ? endAlongFt - last.along_ft : 0; // negative beyond it
  const backwards = way.map((place, i) => ({ place, next: way[i + 1] })).reverse();
  return backwards
    .map(({ place, next }) => {
      if (next) left += Math.hypot(next.along_ft - place.along_ft, next.cross_ft - place.cross_ft);
      return { toGoFt: left, heightFt: place.height_ft };
    })
    .reverse();
}
