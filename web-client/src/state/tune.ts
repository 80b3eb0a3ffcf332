// SPDX-License-Identifier: BSD-3-Clause
// The drive as every page knows it: what is connected, how things stand, who holds control.
import { batch, computed, signal } from "@preact/signals";
import type {
  TuneAsked,
  TuneBringUp,
  TuneCautions,
  TuneControl,
  TuneDrive,
  TuneSaid,
  TuneSearch,
  TuneState,
  TuneTold,
} from "../api/messages";
import { TuneLine } from "../api/tune_line";
import * as draft from "./draft";

/** Milliseconds without a word from the server after which the page says so. */
export const SILENCE = 1000;
const KEPT_WORDS = 30;
const LOOK_EVERY = 200;

/** Numbers for tuning a drive; `null` until the first word. */
export const drive = signal<TuneDrive | null>(null);
export const cautions = signal<TuneCautions | null>(null);
export const standing = signal<TuneState | null>(null);
export const search = signal<TuneSearch | null>(null);
export const control = signal<TuneControl | null>(null);
export const told = signal<readonly TuneTold[]>([]);
export const problem = signal<string | null>(null);
/** How far the drive is brought up. */
export const bringUp = signal<TuneBringUp | null>(null);
/** Where the real drive is, as the server was started; null without one. */
export const realLine = signal<string | null>(null);
export const isConnecting = signal(false);

const isOpen = signal(true);
const isSilent = signal(false);
let heardAt = 0;
let line: TuneLine | null = null;

export const isHolder = computed(() => drive.value !== null && control.value?.holder === drive.value.viewer);
/** Whether another page holds control. */
export const isHeldElsewhere = computed(() => control.value !== null && control.value.holder !== null && !isHolder.value);
/** What the page has lost, in words; null where all is well. */
export const lost = computed(() => {
  if (drive.value === null) return null;
  if (!isOpen.value) return "Lost the server: a moving drive is stopped within 3 s. Trying again.";
  if (isSilent.value) return "No word from the server: a moving drive is stopped within 3 s.";
  if (standing.value && !standing.value.link && standing.value.position_steps !== null) return "Lost the drive: it stops by itself. Stop transmitting.";
  return null;
});

/** Opens the line; on every page, since STOP is on every page. */
export function begin(): void {
  const name = matchMedia("(max-width: 760px)").matches ? "a phone" : "a computer";
  line = new TuneLine({ message: receive, connected: (is) => (isOpen.value = is) }, name);
  setInterval(() => (isSilent.value = drive.value !== null && performance.now() - heardAt > SILENCE), LOOK_EVERY);
}

export function ask(asked: TuneAsked): void {
  problem.value = null;
  line?.send(asked);
}

/** STOP: by the socket and, should that be cut, by a request of its own. */
export function stop(): void {
  if (!line?.send({ type: "tune_stop" })) void fetch("/api/v1/tune/stop", { method: "POST", keepalive: true }).catch(() => undefined);
}

/** Connects the drive of the design on the bench, or the simulated one of the example. */
export function connect(which: "simulated" | "real" | "example" = "simulated"): void {
  const text = draft.base.value;
  isConnecting.value = true;
  if (which === "example") {
    ask({ type: "tune_connect", is_example: true });
    return;
  }
  const base = text === null || text.name === null ? {} : { name: text.name, etag: text.etag, text: text.text };
  ask({ type: "tune_connect", is_real: which === "real", base, edits: draft.edits.value });
}

export function receive(message: TuneSaid): void {
  heardAt = performance.now();
  batch(() => {
    isSilent.value = false;
    switch (message.type) {
      case "drive":
        isConnecting.value = false;
        if (drive.value === null) search.value = null;
        drive.value = message;
        cautions.value = message.cautions;
        break;
      case "no_drive":
        isConnecting.value = false;
        drive.value = standing.value = search.value = control.value = bringUp.value = null;
        realLine.value = message.line;
        told.value = [];
        cautions.value = message.cautions;
        break;
      case "state":
        standing.value = message;
        break;
      case "search":
        search.value = message;
        break;
      case "control":
        control.value = message;
        break;
      case "told":
        told.value = [...told.value, message].slice(-KEPT_WORDS);
        break;
      case "commission":
        bringUp.value = message;
        break;
      case "tune_problem":
        isConnecting.value = false;
        problem.value = message.text;
        break;
    }
  });
}
