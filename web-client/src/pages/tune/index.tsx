// SPDX-License-Identifier: BSD-3-Clause
// Tune it from the armchair, phone first: where the drive is, what it reads, where it should go; STOP is the frame's.
import type { TuneDrive } from "../../api/messages";
import * as draft from "../../state/draft";
import * as tune from "../../state/tune";
import { Triangle } from "../../widgets/triangle";
import { BringUpNow } from "./bring_up";
import { Controls } from "./controls";
import { Details } from "./details";
import { TunePlot } from "./plot";
import { frequencies, hindrance, lacking, megahertz, readout } from "./words";

/** Where something is asked of the person at the transmitter. */
const ACT = new Set(["asking", "rising"]);

export function TunePage() {
  const drive = tune.drive.value;
  return drive === null ? <NoDrive /> : <Tuner drive={drive} />;
}

function NoDrive() {
  const name = draft.base.value?.name ?? "the first ring";
  const said = tune.cautions.value;
  const lacks = lacking(draft.base.value?.values ?? null, draft.edits.value);
  const isIdle = lacks === null && !tune.isConnecting.value;
  return (
    <div class="no-drive">
      <p class="nothing-words">No drive is connected.</p>
      <p class="quiet">
        Learn on a simulated one first: the predicted ring of your design with its capacitor and drive, play, twist and a noisy meter, a little other than
        designed, as built ones are. Nothing transmits.
        {!tune.realLine.value && " A real drive is reached by a server that was started with --link."}
      </p>
      <p class="no-drive-actions">
        {tune.realLine.value && (
          <button type="button" class="chief" disabled={!isIdle} onClick={() => tune.connect("real")}>
            {tune.isConnecting.value ? "Connecting" : `Connect the drive at ${tune.realLine.value}`}
          </button>
        )}
        <button type="button" class={tune.realLine.value || lacks ? "" : "chief"} disabled={!isIdle} aria-describedby={lacks ? "tune-lacks" : undefined} onClick={() => tune.connect()}>
          {tune.isConnecting.value ? "Connecting" : `Connect the simulated drive of ${name}`}
        </button>
        {lacks && (
          <span class="small" id="tune-lacks">
            {lacks}
          </span>
        )}
        <button type="button" class={lacks && !tune.realLine.value ? "chief" : ""} disabled={tune.isConnecting.value} onClick={() => tune.connect("example")}>
          Take the terrace octagon instead
        </button>
      </p>
      {tune.problem.value && (
        <p class="refusal" role="alert">
          {tune.problem.value}
        </p>
      )}
      {said && (
        <p class="small tune-caution">
          <Triangle />
          {said.never_touch} {said.authority}
        </p>
      )}
    </div>
  );
}

function Tuner({ drive }: { drive: TuneDrive }) {
  const state = tune.standing.value;
  const { stands, towards } = frequencies(state);
  const words = tune.lost.value ?? state?.words ?? "waiting for the first word";
  const hinders = hindrance(state, tune.isHeldElsewhere.value ? (tune.control.value?.holder_name ?? "another page") : null, tune.bringUp.value);
  const isAlarm = tune.lost.value !== null || state?.stopped === true || state?.locked !== null;
  return (
    <div class="tune-bench">
      <section class="tune-main" aria-label="Tuning">
        <header class="tune-head">
          <p class="tune-frequency">
            {megahertz(stands)} <span class="unit">MHz</span>
            {towards !== null && <span class="unit"> to {megahertz(towards)}</span>}
          </p>
          <p class={`tune-words${isAlarm ? " alarm" : ACT.has(state?.phase ?? "") ? " act" : ""}`} role="status" data-phase={state?.phase}>
            {words}
          </p>
        </header>
        <Holder drive={drive} />
        <BringUpNow />
        <TunePlot search={tune.search.value} position={state?.position_steps ?? null} swr={state?.swr ?? null} last={drive.last_steps} />
        <dl class="tune-readout">
          {readout(state).map(({ label, value, unit }) => (
            <div key={label}>
              <dt>{label}</dt>
              <dd>
                {value} {unit && <span class="unit">{unit}</span>}
              </dd>
            </div>
          ))}
        </dl>
        <Controls drive={drive} state={state} hinders={hinders} />
      </section>
      <Details drive={drive} state={state} isDisabled={hinders !== null} />
    </div>
  );
}

function Holder({ drive }: { drive: TuneDrive }) {
  const holds = tune.control.value;
  const who = tune.isHolder.value ? "this page holds control" : holds?.holder_name ? `${holds.holder_name} holds control` : "nobody holds control";
  const others = (holds?.viewers ?? 1) - 1;
  const onBench = draft.base.value?.name ?? null;
  return (
    <p class="tune-holder small">
      <span>
        {drive.is_simulated ? "Simulated " : ""}
        {drive.design}
        {drive.line ? ` at ${drive.line}` : ""}; {who}
        {others > 0 ? `, ${others} more ${others === 1 ? "looks" : "look"} on` : ""}.
        {onBench !== null && onBench !== drive.design && <strong>{` It is not the drive of ${onBench}, which is chosen above.`}</strong>}
      </span>
      {tune.isHeldElsewhere.value && (
        <button type="button" onClick={() => tune.ask({ type: "tune_take" })}>
          Take over
        </button>
      )}
    </p>
  );
}
