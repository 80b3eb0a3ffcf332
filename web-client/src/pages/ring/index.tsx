// SPDX-License-Identifier: BSD-3-Clause
// The page one lives on: the ring in the middle, a watt bar for each band, the chosen band in detail, and the controls.
import { useEffect, useState } from "preact/hooks";
import type { Band } from "../../api/messages";
import { PIN_LETTERS } from "../../state/address";
import * as draft from "../../state/draft";
import { shownOnTheBench } from "../../quantities";
import { system } from "../../state/preferences";
import { Figure } from "../../widgets/figure";
import { RingDrawing } from "../../widgets/ring_drawing";
import { PinnedFigures } from "../../widgets/pinned_figures";
import { Triangle } from "../../widgets/triangle";
import { PlainBar } from "../../widgets/watt_bar";
import type { AddressName } from "../../words";
import { AllFigures, DefaultsUsed, Warnings } from "./all_figures";
import { BandRow } from "./band_row";
import { Controls } from "./controls";
import { BandDetail } from "./detail";
import { LayerSwitch } from "./layer";
import { Panels } from "./panels";

export function RingPage() {
  const [address, chooseAddress] = useState<AddressName | null>(null);
  const picture = draft.picture.value;
  const band = draft.chosenBand.value;
  const curves = draft.chosenCurves.value;
  return (
    <div class="bench" data-seq={draft.pictureSeq.value}>
      <div class="hands">
        {picture && band ? (
          <div class="look">
            <Drawing />
            <LayerSwitch />
            <div class="band-rows">
              {picture.prediction.bands.map((one, index) => (
                <BandRow
                  key={draft.bandName(one)}
                  band={one}
                  warnings={picture.prediction.warnings}
                  isChosen={index === draft.bandIndex.value}
                  address={address}
                  chooseAddress={chooseAddress}
                />
              ))}
            </div>
          </div>
        ) : (
          <p class="waiting quiet">{draft.problem.value?.text ?? "Solving the first ring…"}</p>
        )}
        <Controls />
      </div>
      {band && curves && (
        <div class="close-look">
          <BandDetail band={band} curves={curves} />
          <PinnedFigures />
          <Panels band={band} />
          <Warnings />
          <AllFigures band={band} />
          <DefaultsUsed />
          <p class="caution small">
            <Triangle />
            How far people must stay away is on the page Site. Strong fields nearby can heat metal and disturb medical implants. Limits and codes differ by country; your licence conditions and local codes decide.
          </p>
          <Summary />
        </div>
      )}
    </div>
  );
}

function Drawing() {
  const picture = draft.picture.value;
  const band = draft.chosenBand.value;
  if (!picture || !band) return null;
  const ghosts = PIN_LETTERS.flatMap((letter) => {
    const pinned = draft.pins.value[letter]?.picture;
    return pinned ? [{ letter, drawing: pinned.drawing }] : [];
  });
  return (
    <figure class="ring-figure">
      <div class="in-sight">
        <RingDrawing
          drawing={picture.drawing}
          ghosts={ghosts}
          system={system.value}
          couplingSize={shownOnTheBench(String(draft.valueNow(picture.drawing.coupling.is_closed ? "coupling.diameter" : "coupling.tap_at") ?? ""), system.value)}
        />
        <AtAGlance band={band} />
      </div>
      <figcaption class="small">
        <span>
          <Triangle />
          The gap&apos;s kilovolts burn, also across air: never touch while transmitting.
        </span>
        <span class="quiet">
          Ribbon: ring current on {draft.bandName(band)}, at most <Figure of="tuning.ring_current_max_rms_a" band={band} /> rms
        </span>
        {draft.problem.value && <span class="stale">This is the last ring that works.</span>}
      </figcaption>
    </figure>
  );
}

/** On a phone the chosen band stays in sight with the drawing while the controls are in hand. */
function AtAGlance({ band }: { band: Band }) {
  return (
    <div class="at-a-glance" aria-hidden="true">
      <p class="small">
        <span>
          <strong>{draft.bandName(band)}</strong> <Figure of="watts_pct.sky" band={band} isQuiet /> to the sky
        </span>
        <span>
          SWR <Figure of="match.swr_min" band={band} isQuiet />
        </span>
        <span>
          <Figure of="bandwidth_swr2_hz" band={band} isQuiet /> wide
        </span>
      </p>
      <PlainBar band={band} />
    </div>
  );
}

const SETTLED = 900; // ms of rest before the result is read out

/** The result in one sentence for those who hear the page, once the hand rests. */
function Summary() {
  const band = draft.chosenBand.value;
  const [text, setText] = useState("");
  useEffect(() => {
    if (!band) return;
    const sentence = `${draft.bandName(band)}: ${band.watts_pct.sky.toFixed(1)} per cent to the sky, SWR ${band.match.swr_min.toFixed(1)}, ${(band.tuning.capacitor_voltage_peak_v / 1e3).toFixed(1)} kilovolts.`;
    const timer = setTimeout(() => setText(sentence), SETTLED);
    return () => clearTimeout(timer);
  }, [band]);
  return (
    <p class="out-of-sight" role="status">
      {text}
    </p>
  );
}
