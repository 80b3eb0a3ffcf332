// SPDX-License-Identifier: BSD-3-Clause
// Figures of a panel by name; one that cannot be had for this design is left out.
import type { Band } from "../../../api/messages";
import { valueOf } from "../../../figures";
import * as draft from "../../../state/draft";
import { Figure } from "../../../widgets/figure";

export function KnownFigures({ band, keys }: { band: Band; keys: readonly string[] }) {
  const known = keys.filter((key) => valueOf(band, key) !== null);
  return (
    <dl class="figure-list">
      {known.map((key) => (
        <div key={key}>
          <dt>{draft.figures.value.get(key)?.label}</dt>
          <dd>
            <Figure of={key} band={band} />
          </dd>
        </div>
      ))}
    </dl>
  );
}
