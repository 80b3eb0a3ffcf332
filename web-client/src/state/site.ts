// SPDX-License-Identifier: BSD-3-Clause
// The site's picture as its parts come in, and what the person looks at. The last whole picture stays until the next.
import { batch, computed, effect, signal } from "@preact/signals";
import type { Look } from "../api/live_line";
import type {
  LimitName,
  SiteCautions,
  SiteComparison,
  SiteDistances,
  SiteOutlines,
  SiteProblem,
  SiteScene,
  SiteSpace,
  SiteView,
} from "../api/messages";
import type { FigureTableByKey } from "../figures";
import * as draft from "./draft";

export type SiteMessage = SiteScene | SiteOutlines | SiteDistances | SiteComparison | SiteSpace | SiteProblem;

export const figures = signal<FigureTableByKey>(new Map());
export const cautions = signal<SiteCautions | null>(null);

/** What is looked at; null limits: the usual ones, as the server has them for the design's region. */
export const limits = signal<LimitName[] | null>(null);
export const section = signal<"axis" | "plane">("axis");
export const planHeight = signal(1.5); // m: a person's chest
export const elevation = signal(20);
export const isMetalGone = signal(false);
export const noiseBearing = signal<number | null>(null);
export const isInSpace = signal(false);

export const scene = signal<SiteScene | null>(null);
/** What the scene is of. */
const sceneLook = signal<Look | null>(null);
export const outlines = signal<SiteOutlines | null>(null);
export const distances = signal<ReadonlyMap<number, SiteDistances>>(new Map());
export const comparison = signal<SiteComparison | null>(null);
export const space = signal<SiteSpace | null>(null);
export const problem = signal<SiteProblem | null>(null);
/** The last part that came: `step` of `steps`, and when its request was first answered. */
export const progress = signal<{ step: number; steps: number; since: number } | null>(null);

const view = computed<SiteView>(() => ({
  band: draft.bandIndex.value,
  limits: limits.value,
  section: section.value,
  plan_height_m: planHeight.value,
  elevation_deg: elevation.value,
  is_metal_gone: isMetalGone.value,
  noise_bearing_deg: noiseBearing.value,
  is_in_space: isInSpace.value,
}));

/** What to ask for: the draft that was last predicted, so that its solution is known; null while nobody looks. */
export const wanted = computed<Look | null>(() => {
  const asked = draft.pictureAsk.value;
  if (draft.page.value !== "site" || asked === null) return null;
  const { detail_band: _, ...rest } = asked;
  return { ...rest, view: view.value };
});

const HIGH_RING = 3.5; // m, of its centre: above it people near the ring are on a balcony or a roof, not on the earth

let openedFor: string | null | undefined;
/** A design's plan opens where people near its ring are: whoever is placed on the plan stands at its height. */
effect(() => {
  const [ask, picture] = [draft.pictureAsk.value, draft.picture.value];
  const name = ask?.base?.name ?? null;
  if (ask === null || picture === null || name === openedFor) return;
  openedFor = name;
  const centre = picture.drawing.centre_m[2];
  planHeight.value = centre > HIGH_RING ? Number(centre.toFixed(1)) : 1.5;
});

/** Cuts as they are drawn: fine where the fine ones are those of this scene. */
export const cuts = computed(() => {
  const [quick, fine] = [scene.value, outlines.value];
  if (!quick) return null;
  return fine?.seq === quick.seq ? { section: fine.section, plan: fine.plan } : { section: quick.section, plan: quick.plan };
});

/** Whether the scene that is shown is of the draft as it stands: the same text, the same changes. */
export const isOfTheDraft = computed(() => {
  const [look, base] = [sceneLook.value, draft.base.value];
  if (look === null || base === null) return false;
  const isSameText = (look.base?.name ?? null) === base.name && (base.name === null || (look.base?.etag ?? null) === base.etag);
  const isSameLayer = (look.base?.calibration ?? null) === draft.calibration.value;
  return isSameText && isSameLayer && same(look.edits ?? {}, draft.edits.value);
});

/** Whether a part belongs to the scene that is shown and to the draft as it stands. Else it is of something else: a
 * distance or a pass that could be taken for this ring's must then not be shown. */
export function isCurrent(part: { seq: number } | null | undefined): boolean {
  return isOfTheDraft.value && part !== null && part !== undefined && part.seq === scene.value?.seq;
}

/** Whether the scene is that of the draft as it stands and of what is looked at now. */
export const isSettled = computed(() => {
  const asked = wanted.value;
  return isOfTheDraft.value && draft.problem.value === null && asked !== null && same(asked, sceneLook.value);
});

/** Whether every part of it is there. */
export const isWhole = computed(() => isSettled.value && progress.value?.step === progress.value?.steps);

function same(one: unknown, other: unknown): boolean {
  return JSON.stringify(one) === JSON.stringify(other);
}

export function receive(message: SiteMessage, answered: Look | null): void {
  batch(() => {
    if (message.type === "site_problem") {
      problem.value = message;
      return;
    }
    const since = message.step === 1 ? performance.now() : (progress.value?.since ?? 0);
    progress.value = { step: message.step, steps: message.steps, since };
    switch (message.type) {
      case "site_scene":
        scene.value = message;
        sceneLook.value = answered;
        problem.value = null;
        break;
      case "site_outlines":
        outlines.value = message;
        break;
      case "site_distances":
        distances.value = new Map(distances.value).set(message.band, message);
        break;
      case "site_comparison":
        comparison.value = message;
        break;
      case "site_space":
        space.value = message;
        break;
    }
  });
}
