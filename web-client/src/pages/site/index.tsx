// SPDX-License-Identifier: BSD-3-Clause
// Where the ring stands: side view and plan in the middle, what may be moved there, and how far people must stay away.
import { useEffect, useState } from "preact/hooks";
import type { SiteScene } from "../../api/messages";
import * as draft from "../../state/draft";
import * as site from "../../state/site";
import { PinnedFigures } from "../../widgets/pinned_figures";
import { Controls } from "./controls";
import { KeepAway, OtherBands } from "./distances";
import { Firing } from "./firing";
import { Hearing } from "./hearing";
import { BandChips } from "./limit_chips";
import { Picture } from "./picture";
import { bearingText } from "./words";

export function SitePage() {
  const picture = draft.picture.value;
  const band = draft.chosenBand.value;
  const scene = site.scene.value;
  return (
    <div class="bench site-bench" data-seq={draft.pictureSeq.value} data-settled={site.isSettled.value} data-whole={site.isWhole.value}>
      <div class="hands">
        {picture && band && scene ? (
          <div class="look">
            <BandChips />
            <Picture scene={scene} drawing={picture.drawing} />
            <KeepAway />
          </div>
        ) : (
          <p class="waiting quiet">{draft.problem.value?.text ?? site.problem.value?.text ?? "Walking round the site…"}</p>
        )}
        <Controls />
      </div>
      {band && scene && (
        <div class="close-look">
          <PinnedFigures />
          <OtherBands />
          <Firing scene={scene} band={band} />
          <Hearing />
          <Summary scene={scene} />
        </div>
      )}
    </div>
  );
}

const SETTLED = 900; // ms of rest before the result is read out

/** The result in one sentence for those who hear the page, once the hand rests. */
function Summary({ scene }: { scene: SiteScene }) {
  const [text, setText] = useState("");
  useEffect(() => {
    const exceeded = scene.people.filter((person) => person.margins.some((margin) => !margin.passes)).map((person) => person.name);
    const people = !site.isOfTheDraft.value ? "The site is being worked out." : scene.people.length === 0 ? "Nobody is placed." : exceeded.length === 0 ? "Every limit is kept for everyone placed." : `A limit is exceeded for ${exceeded.join(", ")}.`;
    const { pattern } = scene.lobes;
    const sentence = `${people} Strongest at ${pattern.elevation_deg.toFixed(0)} degrees elevation, bearing ${bearingText(pattern.bearing_deg)}.`;
    const timer = setTimeout(() => setText(sentence), SETTLED);
    return () => clearTimeout(timer);
  }, [scene, site.isOfTheDraft.value]);
  return (
    <p class="out-of-sight" role="status">
      {text}
    </p>
  );
}
