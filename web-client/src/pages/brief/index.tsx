// SPDX-License-Identifier: BSD-3-Clause
// From bands, a room and parts to the handful of rings worth building.
import { useEffect, useRef } from "preact/hooks";
import * as bench from "../../state/bench";
import * as brief from "../../state/brief";
import { BriefForm } from "./form";
import { Front } from "./front";
import { Chosen, RingTable, WhyNot } from "./results";

const NARROW = "(max-width: 900px)";

export function BriefPage() {
  const answer = useRef<HTMLDivElement>(null);
  const isSearching = brief.isSearching.value;
  useEffect(() => {
    if (isSearching && matchMedia(NARROW).matches) answer.current?.scrollIntoView();
  }, [isSearching]);
  const rings = brief.rings.value;
  const found = brief.found.value;
  const ring = rings[brief.chosen.value] ?? rings[0];
  return (
    <div class="brief-bench" data-searching={isSearching} data-found={found !== null}>
      <BriefForm>
        <Asking />
      </BriefForm>
      <div class="brief-answer" ref={answer}>
        <Status />
        {rings.length > 0 ? <Front rings={rings} /> : !found && !isSearching && brief.stoppedAt.value === null && <Empty />}
        {found?.nearest && (
          <p class="refusal brief-nearest" role="alert">
            No ring passes; {found.nearest.text}.
          </p>
        )}
        {rings.length > 0 && <RingTable rings={rings} />}
        {ring && <Chosen ring={ring} />}
        {found && <WhyNot found={found} />}
      </div>
    </div>
  );
}

function Asking() {
  const problem = brief.problem.value;
  return (
    <div class="brief-ask">
      {brief.isSearching.value ? (
        <button type="button" onClick={() => bench.endChoice()}>
          Stop, keep what is found
        </button>
      ) : (
        <button type="submit" class="chief" disabled={brief.stock.value === null} onClick={() => bench.chooseRings()}>
          Find the rings
        </button>
      )}
      {problem && (
        <p class="refusal" role="alert">
          {problem.text}
        </p>
      )}
    </div>
  );
}

function Status() {
  const progress = brief.progress.value;
  const isOld = !brief.isSearching.value && brief.rings.value.length > 0 && !brief.isOfTheForm.value;
  return (
    <div class="brief-status">
      {brief.isSearching.value && <progress max={progress?.total ?? 1} value={progress?.done ?? 0} aria-label="Search" />}
      <p class="quiet" role="status">
        {brief.isSearching.value ? (progress?.text ?? "Looking through the grid…") : [stopped(), isOld && "These are the rings of the brief before it was changed."].filter(Boolean).join(" ")}
      </p>
    </div>
  );
}

/** What a list is worth that was not looked through to its end. */
function stopped(): string {
  const share = brief.stoppedAt.value;
  if (share === null) return "";
  const rings = brief.rings.value.length > 0 ? "these are the best so far, not all" : "no ring was found so far";
  return `Stopped at ${Math.round(100 * share)} %: ${rings}. Find the rings again, and it goes on from there.`;
}

function Empty() {
  return (
    <p class="waiting quiet">
      Say what you have and want; every combination is looked at, on the site of the design on the bench, and the rings that no other beats appear here.
    </p>
  );
}
