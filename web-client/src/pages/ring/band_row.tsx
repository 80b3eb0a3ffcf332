// SPDX-License-Identifier: BSD-3-Clause
// One band: its watt bar, and what the ring reaches, takes and stands there, in words.
import type { Band, Notice } from "../../api/messages";
import { countIn, inDecibels, significant } from "../../quantities";
import * as draft from "../../state/draft";
import { PIN_LETTERS } from "../../state/address";
import { Figure } from "../../widgets/figure";
import { Triangle } from "../../widgets/triangle";
import { GhostBar, WattBar } from "../../widgets/watt_bar";
import { ADDRESSES, type AddressName, missing, REASONS, resistanceKey } from "../../words";

interface Props {
  band: Band;
  warnings: readonly Notice[];
  isChosen: boolean;
  address: AddressName | null;
  chooseAddress: (name: AddressName | null) => void;
}

export function BandRow({ band, warnings, isChosen, address, chooseAddress }: Props) {
  const name = draft.bandName(band);
  const choose = () => (draft.band.value = name);
  return (
    <section class={`band-row${isChosen ? " chosen" : ""}`} aria-label={name} data-band={name}>
      <button type="button" class="band-name" aria-pressed={isChosen} onClick={choose}>
        <strong>{name}</strong>
      </button>
      <div class="band-bar">
        <p class="band-sky">
          <Figure of="watts_pct.sky" band={band} /> to the sky
          <span class="quiet small"> {inDecibels(band.watts_pct.sky)}</span>
        </p>
        <WattBar
          band={band}
          label={`${name}: where the watts go`}
          chosen={isChosen ? address : null}
          choose={(one) => {
            choose();
            chooseAddress(one);
          }}
        />
        <Ghosts name={name} />
      </div>
      <Words band={band} warnings={warnings} />
      {isChosen && address && <AddressDetail band={band} name={address} close={() => chooseAddress(null)} />}
    </section>
  );
}

function Ghosts({ name }: { name: string }) {
  return (
    <>
      {PIN_LETTERS.map((letter) => {
        const bands = draft.pins.value[letter]?.picture?.prediction.bands;
        const ghost = bands?.find((one) => draft.bandName(one) === name);
        return ghost && <GhostBar key={letter} band={ghost} letter={letter} />;
      })}
    </>
  );
}

function Words({ band, warnings }: { band: Band; warnings: readonly Notice[] }) {
  const lack = missing(band, warnings);
  const power = String(draft.valueNow("power") ?? "");
  const watts = countIn(power, "W");
  const isOver = watts !== null && band.limits.power_max_w !== null && band.limits.power_max_w < watts;
  const { must_stand_peak_v: must, stands_peak_v: stands } = band.capacitor;
  const isTooMuch = stands !== null && must > stands;
  return (
    <dl class="band-words">
      <dt>reaches</dt>
      <dd>
        {lack === null ? (
          <>
            all of it, <Figure of="tuning.tunes_from_hz" band={band} /> to <Figure of="tuning.tunes_to_hz" band={band} />
          </>
        ) : (
          <>
            <Triangle />
            {lack}
          </>
        )}
      </dd>
      <dt>takes</dt>
      <dd>
        {band.limits.power_max_w === null ? (
          "no rating is stated"
        ) : (
          <>
            {isOver && <Triangle />}
            <Figure of="limits.power_max_w" band={band} />, set by <Figure of="limits.set_by" band={band} />
          </>
        )}
      </dd>
      <dt>must stand</dt>
      <dd>
        {isTooMuch && <Triangle />}
        <Figure of="tuning.capacitor_voltage_peak_v" band={band} /> peak{power && ` at ${power}`}
      </dd>
    </dl>
  );
}

function AddressDetail({ band, name, close }: { band: Band; name: AddressName; close: () => void }) {
  const share = band.watts_pct[name] ?? 0;
  const power = countIn(draft.valueNow("power"), "W");
  const { why, remedy } = REASONS[name];
  return (
    <div class="address-detail" role="status">
      <p>
        <span class={`swatch ink-${name}`} /> <strong>{ADDRESSES.find((one) => one.name === name)?.words}</strong>{" "}
        {power !== null && (
          <>
            <span class="figure">
              {significant((share / 100) * power, 3)}
              <small>{"\u202f"}W</small>
            </span>
            ,{" "}
          </>
        )}
        <Figure of={`watts_pct.${name}`} band={band} /> <span class="quiet together">{inDecibels(share)}</span>,{" "}
        <Figure of={resistanceKey(name)} band={band} /> at the gap
      </p>
      <p>
        {why} {remedy}
      </p>
      <button type="button" onClick={close}>
        Close
      </button>
    </div>
  );
}
