// SPDX-License-Identifier: BSD-3-Clause
// What one step of the drive moves, against the width it must land in: two bars for each band, to one scale.
import type { Band } from "../../api/messages";
import { valueOf } from "../../figures";
import * as draft from "../../state/draft";
import { Figure } from "../../widgets/figure";

export function Resolution() {
  const bands = draft.picture.value?.prediction.bands ?? [];
  const driven = bands.filter((band) => band.drive !== null);
  if (driven.length === 0) return <p class="quiet">No drive is stated: the capacitor is turned by hand, with an insulated knob.</p>;
  return (
    <ul class="resolution">
      {driven.map((band) => (
        <Bars key={draft.bandName(band)} band={band} />
      ))}
    </ul>
  );
}

function Bars({ band }: { band: Band }) {
  const [step, width] = ["drive.step_worst_hz", "drive.width_hz"].map((key) => Number(valueOf(band, key) ?? 0));
  const most = Math.max(step ?? 0, width ?? 0);
  const share = (part: number | undefined) => (most > 0 ? `${Math.max(((part ?? 0) / most) * 100, 0.4)}` : "0");
  return (
    <li>
      <strong>{draft.bandName(band)}</strong>
      <Bar kind="step" share={share(step)} />
      <span>
        one step <Figure of="drive.step_worst_hz" band={band} />
      </span>
      <Bar kind="width" share={share(width)} />
      <span>
        width <Figure of="drive.width_hz" band={band} />
      </span>
    </li>
  );
}

function Bar({ kind, share }: { kind: string; share: string }) {
  return (
    <svg class={`resolution-bar resolution-${kind}`} viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
      <rect x="0" y="0" width={share} height="8" />
    </svg>
  );
}
