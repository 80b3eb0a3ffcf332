// SPDX-License-Identifier: BSD-3-Clause
// What has to be bent, bought and geared for the chosen band: coupling, capacitor and drive.
import type { Band } from "../../../api/messages";
import { CapacitorPanel } from "./capacitor";
import { CouplingPanel } from "./coupling";
import { DrivePanel } from "./drive";

export function Panels({ band }: { band: Band }) {
  return (
    <div class="panels">
      <CouplingPanel band={band} />
      <CapacitorPanel band={band} />
      <DrivePanel band={band} />
    </div>
  );
}
