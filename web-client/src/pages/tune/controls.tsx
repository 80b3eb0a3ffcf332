// SPDX-License-Identifier: BSD-3-Clause
// Where to go: a band by its mark, a frequency by its number, a little by a held button; and how much power then.
import { useState } from "preact/hooks";
import type { TuneBand, TuneDrive, TuneState } from "../../api/messages";
import * as tune from "../../state/tune";
import { Triangle } from "../../widgets/triangle";
import { Nudges } from "./nudges";
import { PositionStrip } from "./strip";
import { hertzOf } from "./words";

const RAISED = new Set(["tuned", "rising", "at power"]);

interface Props {
  drive: TuneDrive;
  state: TuneState | null;
  /** Why nothing can be asked of the drive now; null where it can. */
  hinders: string | null;
}

export function Controls({ drive, state, hinders }: Props) {
  const isDisabled = hinders !== null;
  const isSaidElsewhere = state === null || !state.link || state.stopped || state.locked !== null;
  const choose = (band: TuneBand) => go("tune", (band.low_hz + band.high_hz) / 2);
  return (
    <>
      {hinders && !isSaidElsewhere && <p class="small tune-hinders">{hinders}</p>}
      <PositionStrip
        drive={drive}
        position={state?.position_steps ?? null}
        to={state?.to_steps ?? null}
        chosen={state?.target_hz ?? state?.frequency_hz ?? null}
        isDisabled={isDisabled}
        choose={choose}
      />
      <Latch state={state} />
      <Nudges isDisabled={isDisabled} />
      <Typed isDisabled={isDisabled} />
      {state && RAISED.has(state.phase) && <Raise state={state} isDisabled={isDisabled || !state.sure} />}
      {tune.problem.value && (
        <p class="refusal" role="alert">
          {tune.problem.value}
        </p>
      )}
    </>
  );
}

function go(how: "tune" | "place" | "listen", frequency: number): void {
  tune.ask({ type: "tune_go", how, frequency_hz: frequency });
}

/** What holds until a person lifts it. */
function Latch({ state }: { state: TuneState | null }) {
  if (state?.locked) {
    return (
      <p class="latch" role="alert">
        <span>
          <Triangle />
          An arc is suspected. Transmitter off and cable apart, then look at the capacitor.
        </span>
        <button type="button" onClick={() => tune.ask({ type: "tune_do", what: "clear_lock" })}>
          I have looked: clear
        </button>
      </p>
    );
  }
  if (!state?.stopped) return null;
  return (
    <p class="latch">
      <span>STOP holds.</span>
      <button type="button" onClick={() => tune.ask({ type: "tune_do", what: "release" })}>
        Release STOP
      </button>
    </p>
  );
}

function Typed({ isDisabled }: { isDisabled: boolean }) {
  const [text, setText] = useState("");
  const frequency = hertzOf(text);
  const isWrong = text.trim() !== "" && frequency === null;
  const send = (how: "tune" | "place") => frequency !== null && go(how, frequency);
  return (
    <form
      class="tune-typed"
      onSubmit={(event) => {
        event.preventDefault();
        send("tune");
      }}
    >
      <input
        class="field"
        type="text"
        inputMode="decimal"
        autocomplete="off"
        placeholder="MHz"
        aria-label="frequency in megahertz"
        aria-invalid={isWrong}
        aria-describedby={isWrong ? "tune-typed-refusal" : undefined}
        value={text}
        onInput={(event) => setText(event.currentTarget.value)}
      />
      <button type="submit" class="chief" disabled={isDisabled || frequency === null}>
        Tune
      </button>
      <button type="button" disabled={isDisabled || frequency === null} onClick={() => send("place")}>
        Only go there
      </button>
      {isWrong && (
        <span class="refusal" id="tune-typed-refusal">
          Write megahertz from 1.8 to 54, as in 7.1.
        </span>
      )}
    </form>
  );
}

function Raise({ state, isDisabled }: { state: TuneState; isDisabled: boolean }) {
  const limit = state.limit_w ?? 0;
  const [typed, setTyped] = useState<string | null>(null);
  const watts = Number(typed ?? Math.floor(limit));
  const isPossible = Number.isFinite(watts) && watts > 0 && watts <= limit;
  return (
    <p class="tune-raise">
      <label>
        up to{" "}
        <input
          class="field"
          type="text"
          inputMode="decimal"
          value={typed ?? String(Math.floor(limit))}
          aria-label="power in watts"
          aria-invalid={!isPossible}
          onInput={(event) => setTyped(event.currentTarget.value)}
        />{" "}
        <span class="unit">W, the design allows {limit.toFixed(0)}</span>
      </label>
      <button type="button" class="chief" disabled={isDisabled || !isPossible} onClick={() => tune.ask({ type: "tune_rise", power_w: watts })}>
        Raise step by step
      </button>
    </p>
  );
}
