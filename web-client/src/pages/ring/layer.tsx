// SPDX-License-Identifier: BSD-3-Clause
// The prediction as the design declares it, or with what was measured laid over it.
import * as calibration from "../../state/calibration";
import * as draft from "../../state/draft";

export function LayerSwitch() {
  const offered = calibration.offered.value;
  const name = draft.calibration.value;
  if (offered.length === 0 && name === null) return null;
  return (
    <div class="layer-switch small">
      <label>
        Predicted{" "}
        <select value={name ?? ""} onChange={(event) => (draft.calibration.value = event.currentTarget.value || null)}>
          <option value="">as the design declares</option>
          {offered.map((layer) => (
            <option key={layer.name} value={layer.name}>
              as measured: {layer.name}
            </option>
          ))}
          {name !== null && !offered.some((layer) => layer.name === name) && <option value={name}>as measured: {name}</option>}
        </select>
      </label>
      {name !== null && <Said name={name} />}
    </div>
  );
}

function Said({ name }: { name: string }) {
  const layer = calibration.layers.value.find((one) => one.name === name);
  const laid = draft.picture.value?.prediction.calibration ?? null;
  if (laid !== name)
    return draft.isSettled.value ? (
      <p class="stale" role="status">
        {layer ? `${name} is of another ring than this one now is` : `There is no calibration ${name}`}: what is shown is as declared.
      </p>
    ) : null;
  return (
    <p class="quiet" role="status">
      {layer && `From ${layer.sweeps.join(", ")}, accepted ${layer.accepted.slice(0, 10)}. `}
      Ranges are of the rings that fit. What it takes and must stand is the worse of this and the design as declared.
    </p>
  );
}
