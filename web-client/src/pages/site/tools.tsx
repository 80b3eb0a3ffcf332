// SPDX-License-Identifier: BSD-3-Clause
// What can be put on the site: people, railings, a source of noise. Each by a press on the plan, or at once by key.
import * as site from "../../state/site";
import { chosenItem, placing } from "./chosen";
import { addPerson, addRailing, METAL, PEOPLE } from "./items";
import { narrowSide } from "./picture";
import { northOf, pointNullAt, RAIL_HEIGHT, REACH } from "./plan";
import { bearingText } from "./words";

const AHEAD = 3; // m from the ring, where something is put that no hand has placed
const RAIL_AHEAD = 1.5; // m

export function Tools() {
  const what = placing.value;
  const begin = (next: "person" | "railing") => () => {
    placing.value = what === next ? null : next;
    if (placing.value) narrowSide.value = "plan";
  };
  return (
    <div class="tools" onKeyDown={(event) => event.key === "Escape" && (placing.value = null)}>
      <div class="tool-row" role="group" aria-label="Put on the site">
        <button type="button" aria-pressed={what === "person"} onClick={begin("person")}>
          Place a person
        </button>
        <button type="button" aria-pressed={what === "railing"} onClick={begin("railing")}>
          Draw a railing
        </button>
        <NoiseTool />
      </div>
      {what && <PlacingHint what={what} />}
    </div>
  );
}

function PlacingHint({ what }: { what: "person" | "railing" }) {
  const putHere = () => {
    if (what === "person") chosenItem.value = { list: PEOPLE, number: addPerson([0, -AHEAD, REACH]) };
    else chosenItem.value = { list: METAL, number: addRailing([-1, RAIL_AHEAD, RAIL_HEIGHT], [1, RAIL_AHEAD, RAIL_HEIGHT]) };
    placing.value = null;
  };
  return (
    <p class="placing-hint small" role="status">
      <span>
        {what === "person"
          ? "Press on the plan where someone may stay: the spot nearest the ring that any part of a body may reach."
          : "Press on the plan where the railing begins and let go where it ends."}
      </span>
      <button type="button" onClick={putHere}>
        Put one in front of the ring
      </button>
      <button type="button" onClick={() => (placing.value = null)}>
        Cancel
      </button>
    </p>
  );
}

/** Where the noise comes from: the first press takes the direction that the null has now, and the knob leads on. */
function NoiseTool() {
  const scene = site.scene.value;
  const bearing = site.noiseBearing.value;
  if (bearing === null) {
    return (
      <button
        type="button"
        disabled={!scene}
        onClick={() => {
          if (!scene) return;
          narrowSide.value = "plan";
          pointNullAt(scene, northOf(scene) - scene.lobes.quietest.azimuth_deg);
        }}
      >
        Point the null at noise
      </button>
    );
  }
  return (
    <button type="button" aria-pressed="true" onClick={() => (site.noiseBearing.value = null)}>
      {`Noise from ${bearingText(bearing)}: leave it`}
    </button>
  );
}
