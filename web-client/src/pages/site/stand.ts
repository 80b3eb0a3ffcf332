// SPDX-License-Identifier: BSD-3-Clause
// The ring as it stands under the hand: the last solved one, lifted and turned to where the draft has it by now.
import type { Drawing, SiteScene } from "../../api/messages";
import { countIn } from "../../quantities";
import * as draft from "../../state/draft";
import { lengthValue, steps } from "./items";
import { type Place, rounded, turnOf } from "./plane";

export const HEIGHT = "site.height";
export const TURN = "site.turn";
const LOWEST = 0.1; // m, what the sliders allow, too

export function heightNow(): number | null {
  return countIn(draft.valueNow(HEIGHT), "m");
}

export function turnNow(): number | null {
  return countIn(draft.valueNow(TURN), "deg");
}

export function setHeight(metres: number): void {
  const height = Math.max(rounded(metres, steps().fine), LOWEST);
  draft.change({ [HEIGHT]: lengthValue(height) });
}

export function setTurn(degrees: number): void {
  draft.change({ [TURN]: `${Math.round(turnOf(degrees))} deg` });
}

/** How far the solved ring is turned. */
export function solvedTurn(drawing: Drawing): number {
  return (Math.atan2(drawing.across[1], drawing.across[0]) * 180) / Math.PI;
}

/** How far the ring of a scene is turned; a newer drawing may be there before its scene. */
export function turnOfScene({ section }: SiteScene): number {
  const [x, y] = section.right;
  const turn = (Math.atan2(y, x) * 180) / Math.PI;
  return section.name === "axis" ? turnOf(turn - 90) : turn;
}

export interface Stand {
  ring: Place[];
  coupling: Place[];
  feed: Place;
  gap: Place;
  centre: Place;
  across: Place;
  lowest: number;
  highest: number;
}

export function standNow(drawing: Drawing): Stand {
  const solvedLow = Math.min(...drawing.ring.points_m.map((point) => point[2]));
  const lift = (heightNow() ?? solvedLow) - solvedLow;
  const raised = Math.abs(lift) < 0.01 ? 0 : lift; // a polygon's chords lie a little inside the true ring
  const turn = (((turnNow() ?? solvedTurn(drawing)) - solvedTurn(drawing)) * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const moved = ([x, y, z]: readonly [number, number, number]): Place => [x * cos - y * sin, x * sin + y * cos, z + raised];
  const ring = drawing.ring.points_m.map(moved);
  const heights = ring.map((point) => point[2]);
  const across = moved(drawing.across);
  return {
    ring,
    coupling: drawing.coupling.points_m.map(moved),
    feed: moved(drawing.feed_m),
    gap: moved(drawing.gap_m),
    centre: moved(drawing.centre_m),
    across: [across[0], across[1], drawing.across[2]],
    lowest: Math.min(...heights),
    highest: Math.max(...heights),
  };
}
