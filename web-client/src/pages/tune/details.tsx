// SPDX-License-Identifier: BSD-3-Clause
// What happened, the table that was learnt, what is done more seldom, and the cautions.
import { useState } from "preact/hooks";
import type { TuneDrive, TuneState } from "../../api/messages";
import * as tune from "../../state/tune";
import { Triangle } from "../../widgets/triangle";
import { BringUpList } from "./bring_up";
import { megahertz, once } from "./words";

const WORDS_SHOWN = 8;

export function Details({ drive, state, isDisabled }: { drive: TuneDrive; state: TuneState | null; isDisabled: boolean }) {
  return (
    <section class="tune-details" aria-label="Record and table">
      <Cautions />
      <Said />
      <Seldom drive={drive} state={state} isDisabled={isDisabled} />
      <BringUpList />
      <Table drive={drive} />
    </section>
  );
}

function Cautions() {
  const said = tune.cautions.value;
  if (!said) return null;
  return (
    <ul class="small tune-cautions">
      {[said.never_touch, said.stop_is_no_switch, said.authority].map((caution) => (
        <li key={caution}>
          <Triangle />
          {caution}
        </li>
      ))}
    </ul>
  );
}

function Said() {
  const words = once(tune.told.value).slice(-WORDS_SHOWN).reverse();
  return (
    <div class="tune-said">
      <h2>What happened</h2>
      <div role="log" aria-label="What happened">
        <ul>
          {words.map(({ said, times }, index) => (
            <li key={`${said.at_s} ${said.word} ${index}`}>
              <span class="quiet small">{said.at_s === null ? "" : `${said.at_s.toFixed(1)} s`}</span> {said.words}
              {times > 1 && <span class="quiet small">{` ${times} times`}</span>}
            </li>
          ))}
          {words.length === 0 && <li class="quiet">Nothing yet.</li>}
        </ul>
      </div>
    </div>
  );
}

function Seldom({ drive, state, isDisabled }: { drive: TuneDrive; state: TuneState | null; isDisabled: boolean }) {
  const target = state?.target_hz ?? state?.frequency_hz ?? null;
  const isFollowing = state?.following ?? false;
  return (
    <details>
      <summary>More</summary>
      <div class="tune-more">
        <button type="button" aria-pressed={isFollowing} disabled={state === null || tune.isHeldElsewhere.value} onClick={() => tune.ask({ type: "tune_do", what: isFollowing ? "leave" : "follow" })}>
          Follow the warmth
        </button>
        <button type="button" disabled={isDisabled || target === null} onClick={() => target !== null && tune.ask({ type: "tune_go", how: "listen", frequency_hz: target })}>
          Turn past, listening
        </button>
        <button type="button" disabled={isDisabled} onClick={() => tune.ask({ type: "tune_do", what: "loudest" })}>
          Loudest now
        </button>
        <button type="button" disabled={isDisabled} onClick={() => tune.ask({ type: "tune_do", what: "reference" })}>
          Seek the end stop
        </button>
        {drive.is_simulated && (
          <button type="button" aria-pressed={drive.is_pulled} onClick={() => tune.ask({ type: "tune_pull", is_pulled: !drive.is_pulled })}>
            {drive.is_pulled ? "Put the cable in again" : "Pull the cable, to see"}
          </button>
        )}
        <button type="button" disabled={tune.isHeldElsewhere.value} onClick={() => tune.ask({ type: "tune_let_go" })}>
          Let the drive go
        </button>
      </div>
    </details>
  );
}

function Table({ drive }: { drive: TuneDrive }) {
  const [site, setSite] = useState("");
  const isHeld = tune.isHeldElsewhere.value;
  return (
    <details>
      <summary>
        Tuning table, {drive.pairs.length} {drive.pairs.length === 1 ? "pair" : "pairs"}
      </summary>
      <form
        class="tune-site"
        onSubmit={(event) => {
          event.preventDefault();
          if (site.trim()) tune.ask({ type: "tune_table", site: site.trim() });
          setSite("");
        }}
      >
        <label>
          Stands at <strong>{drive.site}</strong>; moved to{" "}
          <input class="field" type="text" maxLength={40} value={site} aria-label="name of the new site" onInput={(event) => setSite(event.currentTarget.value)} />
        </label>
        <button type="submit" disabled={isHeld || site.trim() === ""}>
          Moved
        </button>
      </form>
      <p class="small quiet">On another site one tuning is enough: the table moves with it.</p>
      <table class="tune-pairs">
        <thead>
          <tr>
            <th scope="col">MHz</th>
            <th scope="col">step</th>
            <th scope="col">{"\u00b0C"}</th>
            <th scope="col">site</th>
            <th scope="col">
              <span class="out-of-sight">leave out</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {drive.pairs.map((pair) => (
            <tr key={pair.number}>
              <td>{megahertz(pair.frequency_hz)}</td>
              <td>{pair.position_steps}</td>
              <td>{pair.temperature_degc?.toFixed(0) ?? "\u2013"}</td>
              <td title={pair.at}>{pair.site}</td>
              <td>
                <button type="button" disabled={isHeld} aria-label={`leave pair ${pair.number} out`} onClick={() => tune.ask({ type: "tune_table", remove: pair.number })}>
                  {"\u00d7"}
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
