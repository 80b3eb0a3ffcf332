// SPDX-License-Identifier: BSD-3-Clause
// The wiring of a page: first load, the live line, files that change under it, pins and the address.
import { batch, effect, signal } from "@preact/signals";
import { getDesign, getDesigns, getFigures, getProof, getSite, getStart, getSweeps, postPredict, Refused } from "../api/http";
import { type Ask, LiveLine, type Look } from "../api/live_line";
import type { DesignEntry, ServerMessage } from "../api/messages";
import type { BaseText } from "./draft";
import { FIRST_RING, fromAddress, isOtherPlace, namesNoDesign, PIN_LETTERS, type PinLetter, type Place, toAddress, type Variant } from "./address";
import * as brief from "./brief";
import * as calibration from "./calibration";
import * as draft from "./draft";
import { isDisputed } from "./lists";
import { say } from "./notes";
import * as match from "./match";
import * as prove from "./prove";
import * as record from "./record";
import * as site from "./site";

export const designs = signal<DesignEntry[]>([]);
export const workspace = signal("");

let line: LiveLine;
let pageKeys: readonly string[] = [];
let instance: string | null = null;
let unknownEtag: string | null = null; // of a text that the server no longer has

/** Begins: reads the address, loads what it names, opens the line. */
export async function begin(pages: readonly string[]): Promise<void> {
  pageKeys = pages;
  const [start, table, sites, proofs] = await persistently(() => Promise.all([getStart(), getFigures(), getSite(), getProof()]));
  draft.start.value = start;
  draft.figures.value = new Map(table.figures.map((figure) => [figure.key, figure]));
  site.figures.value = new Map(sites.figures.map((figure) => [figure.key, figure]));
  site.cautions.value = sites.cautions;
  prove.figures.value = new Map(proofs.figures.map((figure) => [figure.key, figure]));
  prove.cautions.value = proofs.cautions;
  await arrive();
  line = new LiveLine({ message: receive, connected });
  effect(() => line.ask(wanted()));
  effect(() => line.look(site.wanted.value));
  effect(proveWhatStands);
  effect(writeAddress);
}

/** Where the address leads, also if a hand goes back before the page has got there. */
async function arrive(): Promise<void> {
  let way = comeBack();
  addEventListener("popstate", () => (way = comeBack()));
  for (let last; last !== way; await last) last = way;
}

/** The way back: what is behind it may have been written when the folder was still empty. */
async function comeBack(): Promise<void> {
  await goTo(await entrance(fromAddress(location.pathname, location.search, pageKeys)));
}

/** Where one comes in who names no design, on any page: the folder's own, the one written last of several. */
async function entrance(place: Place): Promise<Place> {
  if (!namesNoDesign(place)) return place;
  const { newest, designs: all } = await persistently(getDesigns);
  designs.value = all;
  if (newest === null) return place;
  if (all.length > 1) {
    const others = all.length === 2 ? "the other one is" : `${all.length - 1} others are`;
    say(`This is ${newest}, the design written last; ${others} in the list at the top.`);
  }
  return { ...place, design: newest };
}

/** Opens a design file (null: the built-in start) in place of what is on the bench. */
export async function open(name: string | null): Promise<void> {
  await goTo({ ...placeNow(), design: name, edits: {}, calibration: null });
}

export function pin(letter: PinLetter): void {
  const variant = { design: draft.base.value?.name ?? null, edits: draft.edits.value };
  draft.pins.value = { ...draft.pins.value, [letter]: { ...variant, picture: draft.picture.value } };
}

export function unpin(letter: PinLetter): void {
  const { [letter]: _, ...rest } = draft.pins.value;
  draft.pins.value = rest;
}

/** Lays a pinned variant on the bench again. */
export async function takeUp(letter: PinLetter): Promise<void> {
  const pinned = draft.pins.value[letter];
  if (pinned) await goTo({ ...placeNow(), design: pinned.design, edits: pinned.edits });
}

let journey = 0;

/** Two ways in quick succession: the later one counts, whichever file comes first. */
async function goTo(place: Place): Promise<void> {
  const mine = ++journey;
  const name = place.design || null;
  const isHere = draft.base.value !== null && draft.base.value.name === name;
  const text = isHere ? draft.base.value : await textOf(name);
  if (mine !== journey) return;
  batch(() => {
    draft.page.value = place.page;
    draft.band.value = place.band;
    draft.calibration.value = place.calibration;
    draft.pins.value = pinsOf(place);
    if (text) draft.lay(text, place.edits);
  });
  for (const letter of PIN_LETTERS) void draw(letter);
}

async function textOf(name: string | null): Promise<BaseText | null> {
  const start = draft.start.value;
  if (name !== null) {
    try {
      const { problem: _, ...text } = await getDesign(name);
      return text;
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      say(error.problem.text);
    }
  }
  return start && draft.startText(start);
}

/** Pins of a place; those that were drawn already keep their picture. */
function pinsOf(place: Place): typeof draft.pins.value {
  const drawn = draft.pins.value;
  const pinned: typeof draft.pins.value = {};
  for (const letter of PIN_LETTERS) {
    const variant = place.pins[letter];
    if (!variant) continue;
    const before = drawn[letter];
    const isSame = before !== undefined && JSON.stringify(variantOf(before)) === JSON.stringify(variant);
    pinned[letter] = { ...variant, picture: isSame ? before.picture : null };
  }
  return pinned;
}

async function draw(letter: PinLetter): Promise<void> {
  const pinned = draft.pins.value[letter];
  if (!pinned || pinned.picture) return;
  try {
    const picture = await postPredict({ base: { name: pinned.design }, edits: pinned.edits });
    draft.pins.value = { ...draft.pins.value, [letter]: { ...pinned, picture } };
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    say(`Variant ${letter}: ${error.problem.text}`);
  }
}

function wanted(): Ask {
  const base = draft.base.value;
  const named = base === null || base.name === null ? {} : { name: base.name, etag: base.etag };
  const known = draft.calibration.value === null ? named : { ...named, calibration: draft.calibration.value };
  return {
    base: base !== null && base.etag === unknownEtag ? { ...known, text: base.text } : known,
    edits: draft.edits.value,
    detail_band: draft.bandIndex.value,
  };
}

/** Has a coupling sought for the draft as it stands. */
export function seekCoupling(vary: match.Vary[]): void {
  const { detail_band: _, ...now } = wanted();
  match.begin(now.edits ?? {});
  line.seek({ ...now, vary });
}

export function endSearch(): void {
  line.endSearch();
}

/** The sweeps on the page against the draft as it stands, asked for once; again after the line was cut. */
function proveWhatStands(): void {
  const wanted = prove.wanted.value;
  if (!draft.isConnected.value) prove.lose();
  else if (wanted) prove.begin(line.prove(wanted));
  else if (!prove.isWanted.value && prove.forget()) line.endProof();
}

/** Has rings sought for the brief, on the site of the draft as it stands. */
export function chooseRings(): void {
  const { detail_band: _, ...now } = wanted();
  line.choose({ ...now, ...brief.begin() });
}

export function endChoice(): void {
  line.endChoice();
}

/** Goes to a page with a design file. */
export async function openOn(page: string, name: string): Promise<void> {
  await goTo({ ...placeNow(), page, design: name, edits: {}, calibration: null });
}

export function endProof(): void {
  line.endProof();
}

function connected(is: boolean): void {
  draft.isConnected.value = is;
  if (!is) {
    match.lose();
    brief.lose();
  }
}

function receive(message: ServerMessage, answered: Ask | Look | null): void {
  switch (message.type) {
    case "hello":
      workspace.value = message.workspace;
      if (instance !== null && instance !== message.instance) void checkBase();
      instance = message.instance;
      void listDesigns();
      void listSweeps();
      void calibration.load();
      void record.load();
      break;
    case "record_changed":
      void record.load();
      break;
    case "prediction":
      batch(() => {
        draft.picture.value = message;
        draft.pictureSeq.value = message.seq;
        draft.pictureAsk.value = answered;
        draft.problem.value = null;
      });
      break;
    case "problem":
      if (message.code === "stale" && draft.base.value?.etag !== unknownEtag) {
        unknownEtag = draft.base.value?.etag ?? null;
        line.ask(wanted());
      } else {
        draft.problem.value = message;
      }
      break;
    case "file_changed":
      void listDesigns();
      if (message.name === draft.base.value?.name) void adopt(message.etag);
      break;
    case "sweep_changed":
      void listSweeps();
      prove.fileChanged(message);
      break;
    case "proof_sweeps":
    case "proof_progress":
    case "proof_found":
    case "proof_stopped":
    case "proof_problem":
      prove.receive(message);
      break;
    case "search_progress":
    case "search_found":
    case "search_stopped":
    case "search_problem":
      brief.receive(message);
      break;
    case "match_progress":
    case "match_found":
    case "match_stopped":
    case "match_problem":
      match.receive(message);
      break;
    default:
      // A look is all that the other messages answer.
      site.receive(message, answered as Look | null);
  }
}

/** After a restart: is the file still the one on the bench? */
async function checkBase(): Promise<void> {
  const name = draft.base.value?.name;
  if (name === null || name === undefined) return;
  try {
    await adopt((await getDesign(name)).etag);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    say(error.problem.text);
  }
}

/** The file on the bench has another text now. It is shown at once, unless that would decide over changes made here. */
async function adopt(etag: string | null): Promise<void> {
  await draft.whenSaved();
  const old = draft.base.value;
  if (old === null || old.name === null || etag === old.etag) return;
  if (etag === null) {
    say(`${old.name}.toml is gone from the folder. Your draft is still here; saving writes it anew.`);
    return;
  }
  const { problem, ...text } = await getDesign(old.name);
  if (draft.base.value !== old || text.etag === old.etag) return;
  const disputed = Object.keys(draft.edits.value).filter((key) => isDisputed(key, old.values, text.values));
  if (disputed.length > 0) {
    say(`${old.name}.toml was changed elsewhere, also ${disputed.join(", ")}, which you changed here. Saving will ask.`);
    return;
  }
  draft.lay(text, draft.edits.value);
  say(`${old.name}.toml was changed elsewhere${problem ? `: ${problem.text}` : "; this is the new one."}`);
}

export async function listDesigns(): Promise<void> {
  try {
    designs.value = (await getDesigns()).designs;
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
  }
}

async function listSweeps(): Promise<void> {
  try {
    prove.folder.value = (await getSweeps()).sweeps;
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
  }
}

function variantOf({ design, edits }: Variant): Variant {
  return { design, edits };
}

function placeNow(): Place {
  const pinned: Place["pins"] = {};
  for (const letter of PIN_LETTERS) {
    const one = draft.pins.value[letter];
    if (one) pinned[letter] = variantOf(one);
  }
  return {
    page: draft.page.value,
    band: draft.band.value,
    calibration: draft.calibration.value,
    design: draft.base.value?.name ?? (designs.peek().length > 0 ? FIRST_RING : null),
    edits: draft.edits.value,
    pins: pinned,
  };
}

/** The address of another page with the same design, band and pins. */
export function addressOf(page: string): string {
  return toAddress({ ...placeNow(), page });
}

let pending: string | null = null;
let writing: ReturnType<typeof setTimeout> | undefined;

/** An address that named no design is filled in. What a slider changes is written a little later, since browsers limit how often; any other place at once. */
function writeAddress(): void {
  const place = placeNow();
  const address = toAddress(place);
  const shown = fromAddress(location.pathname, location.search, pageKeys);
  if (location.pathname === "/" || (namesNoDesign(shown) && place.design)) {
    history.replaceState(null, "", address);
  } else if (isOtherPlace(place, shown)) {
    flushAddress();
    history.pushState(null, "", address);
  } else {
    pending = address === toAddress(shown) ? null : address;
    clearTimeout(writing);
    writing = setTimeout(flushAddress, 250);
  }
}

function flushAddress(): void {
  if (pending !== null) history.replaceState(null, "", pending);
  pending = null;
}

async function persistently<T>(load: () => Promise<T>): Promise<T> {
  for (;;) {
    try {
      return await load();
    } catch (error) {
      if (!(error instanceof Refused) || error.problem.code !== "offline") throw error;
      draft.isConnected.value = false;
      await new Promise((done) => setTimeout(done, 1000));
    }
  }
}

