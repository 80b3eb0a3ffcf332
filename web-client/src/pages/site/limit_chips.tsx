// SPDX-License-Identifier: BSD-3-Clause
// Which band, which limits and whose tier the zones are drawn for.
import type { LimitName } from "../../api/messages";
import * as draft from "../../state/draft";
import * as site from "../../state/site";
import { limitClass, limitWords, namesOf } from "./words";

type Tier = LimitName["tier"];
const TIERS: readonly { tier: Tier; words: string }[] = [
  { tier: "public", words: "anyone (public)" },
  { tier: "occupational", words: "informed (occupational)" },
];

/** The limits that are drawn, as chosen here or as the server takes them. */
function chosenLimits(): readonly LimitName[] {
  return site.limits.value ?? site.scene.value?.limits.filter((one) => one.is_chosen) ?? [];
}

export function BandChips() {
  const bands = draft.picture.value?.prediction.bands ?? [];
  return (
    <div class="chip-row" role="group" aria-label="Band">
      {bands.map((band, index) => {
        const name = draft.bandName(band);
        return (
          <button key={name} type="button" aria-pressed={index === draft.bandIndex.value} onClick={() => (draft.band.value = name)}>
            {name}
          </button>
        );
      })}
    </div>
  );
}

export function LimitChips() {
  const scene = site.scene.value;
  if (!scene) return null;
  const chosen = chosenLimits();
  const names = new Set(chosen.map((one) => one.limit));
  const tiers = new Set(chosen.map((one) => one.tier));
  const draw = (wanted: ReadonlySet<string>, whose: ReadonlySet<Tier>) =>
    (site.limits.value = [...wanted].flatMap((limit) => [...whose].map((tier) => ({ limit, tier }))));
  const toggled = <T,>(set: ReadonlySet<T>, one: T) => new Set(set.has(one) ? [...set].filter((other) => other !== one) : [...set, one]);
  return (
    <fieldset class="limit-chips">
      <legend>Limits that are drawn</legend>
      <div class="chip-row" role="group" aria-label="Limits">
        {namesOf(scene.limits).map((name) => (
          <button key={name} type="button" class={limitClass(name)} aria-pressed={names.has(name)} onClick={() => draw(toggled(names, name), tiers.size ? tiers : new Set(["public" as Tier]))}>
            <Swatch name={name} />
            {limitWords(name).words}
          </button>
        ))}
      </div>
      <div class="chip-row" role="group" aria-label="Whom the limits protect">
        {TIERS.map(({ tier, words }) => (
          <button key={tier} type="button" aria-pressed={tiers.has(tier)} onClick={() => draw(names.size ? names : new Set(namesOf(scene.limits)), toggled(tiers, tier))}>
            {words}
          </button>
        ))}
      </div>
    </fieldset>
  );
}

/** A piece of the limit's fill with its mark. */
export function Swatch({ name, mark }: { name: string; mark?: string }) {
  return (
    <span class={`limit-swatch ${limitClass(name)}`} aria-hidden="true">
      {mark ?? limitWords(name).mark}
    </span>
  );
}
